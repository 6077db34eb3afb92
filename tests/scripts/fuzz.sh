#!/usr/bin/env bash
# Fuzzes the readers of the program on the stable toolchain: libFuzzer (libfuzzer-sys 0.4.13) with the compiler's own coverage
# counters. Needs a C++ compiler. Mutates the stored corpus in a scratch folder; a finding stops its target, and its input is
# kept in the scratch folder, to be put into tests/fuzz/corpus/TARGET once it is mended.
# usage: tests/scripts/fuzz.sh [SECONDS [TARGET…]]       seconds per target (default 900), targets (default all)
set -euo pipefail
cd "$(dirname "$0")/../.."
seconds=${1:-900}
shift || true
targets=("$@")
[ ${#targets[@]} -gt 0 ] || targets=(knowledge edits quantity journal facts lesson line)
scratch=${FUZZ_SCRATCH:-$(mktemp -d)}
target_dir=${CARGO_TARGET_DIR:-$PWD/target}/fuzz
export RUSTFLAGS="--cfg fuzzing -Cpasses=sancov-module -Cllvm-args=-sanitizer-coverage-level=4 \
-Cllvm-args=-sanitizer-coverage-inline-8bit-counters -Cllvm-args=-sanitizer-coverage-pc-table \
-Cllvm-args=-sanitizer-coverage-trace-compares -Ccodegen-units=1"
# With --target the flags stay off build scripts and macros.
cargo build --release --locked --quiet --target x86_64-unknown-linux-gnu \
  --manifest-path tests/fuzz/Cargo.toml --target-dir "$target_dir"
fuzz=$target_dir/x86_64-unknown-linux-gnu/release/fuzz
echo "scratch: $scratch"
found=0
for target in "${targets[@]}"; do
  mkdir -p "$scratch/$target/corpus" "$scratch/$target/found"
  log=$scratch/$target/log
  status=0
  FUZZ_TARGET=$target "$fuzz" "$scratch/$target/corpus" "tests/fuzz/corpus/$target" \
    -max_total_time="$seconds" -max_len=6000 -timeout=20 -rss_limit_mb=3000 -print_final_stats=1 \
    -dict=tests/fuzz/words.dict -artifact_prefix="$scratch/$target/found/" >"$log" 2>&1 || status=$?
  runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")
  edges=$(grep -o 'cov: [0-9]*' "$log" | tail -1)
  echo "$target: ${runs:-?} executions, ${edges:-no edges}, exit $status"
  [ "$status" = 0 ] || { found=1; grep -m3 -E 'panicked|ERROR|Test unit written' "$log" || true; tail -3 "$log"; }
done
exit $found
