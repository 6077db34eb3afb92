#!/usr/bin/env bash
# Compares our posteriors on the shipped knowledge with those of a general-purpose Bayesian-network library that reads
# our export. Exit 1 if any differs by more than 1e-9.
# usage: tests/scripts/library_check.sh [SETS [SEED]]      evidence sets per family (default 20), seed (default 1)
set -euo pipefail
cd "$(dirname "$0")/../.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
python3 -m venv "$work/venv"
"$work/venv/bin/pip" install --quiet --disable-pip-version-check pyagrum==3.3.1 numpy==2.4.6
cargo build --release --locked --bin weephole --example belief_sets
target=${CARGO_TARGET_DIR:-target}
for family in $("$target/release/weephole" knowledge list families | cut -d' ' -f1); do
  "$target/release/weephole" knowledge export --format bif --family "$family" > "$work/$family.bif"
  "$work/venv/bin/python" tests/scripts/library_check.py \
    "$work/$family.bif" "$family" "$target/release" "${1:-20}" "${2:-1}"
done
