#!/usr/bin/env bash
# Counts what simulated jobs teach in portable SQL (fleet_counts.sql, DuckDB) and compares with the program's own counts:
# whole numbers exactly, fading and expected counts to 1e-9. Exit 1 if any differs.
# usage: tests/scripts/fleet_counts.sh [JOBS [SEED]]       jobs (default 100,000: some 600 MB of rows), seed (default 1)
set -euo pipefail
cd "$(dirname "$0")/../.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
python3 -m venv "$work/venv"
"$work/venv/bin/pip" install --quiet --disable-pip-version-check duckdb==2.0.1
cargo run --release --locked --quiet --example fleet_rows -- "$work" "${1:-100000}" "${2:-1}"
"$work/venv/bin/python" tests/scripts/fleet_counts.py "$work"
