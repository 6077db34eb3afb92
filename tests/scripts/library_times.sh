#!/usr/bin/env bash
# Times a general-purpose Bayesian-network library and our engine on the same net in one run, and prints the ratios.
# Timings count only after all posteriors and worths agree to 1e-9; exit 1 if they do not.
# usage: tests/scripts/library_times.sh [--bench-json FILE] [NET.json …]
#   NET.json      nets to time (default tests/nets/n60.json)
#   --bench-json  what belief_bench printed earlier, instead of running it; one net only
set -euo pipefail
cd "$(dirname "$0")/../.."
saved=
if [ "${1:-}" = --bench-json ]; then
  saved=$(realpath "$2")
  shift 2
fi
[ $# -gt 0 ] || set -- tests/nets/n60.json
if [ -n "$saved" ] && [ $# -gt 1 ]; then
  echo "--bench-json goes with one net" >&2
  exit 2
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
python3 -m venv "$work/venv"
"$work/venv/bin/pip" install --quiet --disable-pip-version-check pyagrum==3.3.1 numpy==2.4.6
pinned=()
if command -v taskset > /dev/null; then pinned=(taskset -c 0); fi
[ -n "$saved" ] || cargo build --release --locked --example belief_bench
for net in "$@"; do
  bench=$saved
  if [ -z "$bench" ]; then
    bench=$work/bench.json
    "${pinned[@]}" "${CARGO_TARGET_DIR:-target}/release/examples/belief_bench" "$net" > "$bench"
  fi
  "${pinned[@]}" "$work/venv/bin/python" tests/scripts/library_times.py "$net" "$bench"
done
