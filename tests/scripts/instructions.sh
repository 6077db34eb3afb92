#!/usr/bin/env bash
# Counts the instructions of belief_bench on one net and fails if they are more than 5 % above the stored figure.
# Counted by valgrind (callgrind) where there is one, else by perf; the two count differently, so each has its line.
# usage: tests/scripts/instructions.sh [--update]      --update stores the figure in tests/scripts/instructions.txt
set -euo pipefail
cd "$(dirname "$0")/../.."
stored=tests/scripts/instructions.txt
cargo build --release --locked --example belief_bench
run=("${CARGO_TARGET_DIR:-target}/release/examples/belief_bench" tests/nets/n60.json)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
if command -v valgrind > /dev/null; then
  tool=callgrind
  valgrind --tool=callgrind --callgrind-out-file="$work/out" "${run[@]}" > /dev/null 2> "$work/log"
  count=$(awk '/^(summary|totals):/ { print $2; exit }' "$work/out")
elif command -v perf > /dev/null; then
  tool=perf
  perf stat -x, -e instructions:u -o "$work/log" "${run[@]}" > /dev/null
  count=$(awk -F, '/instructions/ { print $1; exit }' "$work/log")
else
  echo "neither valgrind nor perf is here" >&2
  exit 2
fi
if ! [[ "$count" =~ ^[0-9]+$ ]]; then
  echo "no count:" >&2
  cat "$work/log" >&2
  exit 2
fi
if [ "${1:-}" = --update ]; then
  touch "$stored"
  { grep -v "^$tool " "$stored" || true; echo "$tool $count"; } > "$work/new"
  sort "$work/new" > "$stored"
  echo "stored: $tool $count"
  exit 0
fi
before=$(awk -v tool="$tool" '$1 == tool { print $2 }' "$stored" 2> /dev/null || true)
if [ -z "$before" ]; then
  echo "$tool: $count instructions, but no figure of $tool in $stored; run with --update" >&2
  exit 2
fi
echo "$tool: $count instructions, stored $before: $(awk -v a="$count" -v b="$before" 'BEGIN { printf "%.1f", 100 * a / b }') %"
if [ $((100 * count)) -gt $((105 * before)) ]; then
  echo "more than 5 % above the stored figure" >&2
  exit 1
fi
