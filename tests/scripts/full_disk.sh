#!/usr/bin/env bash
# A really full disk and a medium that can only be read: small tmpfs mounts, which need root (or a user namespace).
# Fills the disk at many points of a job, checks that everything said to be saved is there, frees it and goes on.
# Prints figures; ends with 1 if anything was lost, with 2 if nothing could be mounted. Needs `cargo build --release`, or the
# program in WEEPHOLE.
set -euo pipefail
cd "$(dirname "$0")/../.."
program=${WEEPHOLE:-$PWD/target/release/weephole}
[ -x "$program" ] || { echo "$program is not built: cargo build --release"; exit 2; }
place=$(mktemp -d)
mounted=()
cleanup() { for at in "${mounted[@]}"; do umount "$at" || true; done; rm -rf "$place"; }
trap cleanup EXIT
mkdir "$place/full" "$place/read"
mount -t tmpfs -o size=64k none "$place/full" 2>"$place/why" || {
  echo "NOT RUN: no tmpfs can be mounted here ($(cat "$place/why")); run it as root"; exit 2; }
mounted+=("$place/full")
runs=0 said=0 kept=0 lost=0 refused=0
# A job whose remarks are so many letters longer.
typed() {
  local pad; pad=$(head -c "$1" /dev/zero | tr '\0' x)
  printf 'it rattles like gravel\n1\n2\n\n'
  for at in $(seq 60); do printf 'note remark %s of a long day at the pump %s\n' "$at" "$pad"; done
}
# Bytes left free when the job begins: from none to enough.
for pages in 0 1 2 3 4 5 6; do
  for longer in 0 7 40 211; do
    rm -rf "$place/full"/*; mkdir "$place/full/data"
    free=$((pages * 4096)); total=$((64 * 1024))
    # The rest of the disk is taken, to the byte as far as the disk counts them.
    head -c $((total - free - 4096)) /dev/zero > "$place/full/taken" 2>/dev/null || true
    typed "$longer" | "$program" --plain --data-dir "$place/full/data" > "$place/out" 2> "$place/err" || true
    acknowledged=$(grep -c '^Saved' "$place/out" || true)
    journal=$(ls "$place/full/data/jobs/"*.journal 2>/dev/null | head -1 || true)
    lines=0; [ -z "$journal" ] || lines=$(grep -c '' "$journal" || true)
    runs=$((runs + 1)); said=$((said + acknowledged)); kept=$((kept + lines))
    if grep -qE 'no storage space|No space left|not saved' "$place/out" "$place/err"; then refused=$((refused + 1)); fi
    if [ "$lines" -lt "$acknowledged" ]; then lost=$((lost + 1)); echo "LOST: $acknowledged said, $lines kept ($pages pages)"; fi
    if grep -q panicked "$place/err"; then lost=$((lost + 1)); echo "PANIC:"; cat "$place/err"; fi
    # Room again: the job goes on, if there is one.
    rm -f "$place/full/taken"
    if [ "$lines" -gt 0 ] && ! printf 'note again\n' | "$program" job --resume 1 --data-dir "$place/full/data" > "$place/out" 2>&1; then
      lost=$((lost + 1)); echo "DOES NOT GO ON:"; cat "$place/out"
    fi
  done
done
echo "full disk: $runs runs, the disk refused in $refused, $said answers said to be saved, $kept entries kept, lost: $lost"

# Edits of knowledge on a full disk: the file is old or new, never between, and the edit goes on once there is room.
edits=0 torn=0
for free in 0 4096 8192 12288 16384 20480; do
  rm -rf "$place/full"/*; mkdir "$place/full/k"
  printf '(version: 1, sources: {"own_log": (title: "first", kind: published)})\n' > "$place/full/k/own.ron"
  head -c $((60 * 1024 - free)) /dev/zero > "$place/full/taken" 2>/dev/null || true
  "$program" knowledge set sources.own_log.title second --knowledge "$place/full/k" > "$place/out" 2> "$place/err" || true
  edits=$((edits + 1))
  title=$(sed 's/.*title: "\([a-z]*\)".*/\1/' "$place/full/k/own.ron")
  case "$title" in first|second) ;; *) torn=$((torn + 1)); echo "TORN: $title" ;; esac
  if grep -q '^Saved as edit' "$place/out" && [ "$title" != second ]; then torn=$((torn + 1)); echo "LOST an edit"; fi
  rm -f "$place/full/taken"
  "$program" knowledge set sources.own_log.title third --knowledge "$place/full/k" > "$place/out" 2>&1 || { torn=$((torn + 1)); cat "$place/out"; }
done
echo "edits on a full disk: $edits runs, neither old nor new: $torn"

# Only readable: a job there, taken up, listed, its record made; nothing new begun.
mount -t tmpfs -o size=1m none "$place/read"; mounted+=("$place/read")
typed 0 | "$program" --plain --data-dir "$place/read/data" > "$place/out" 2>&1
mount -o remount,ro "$place/read"
wrong=0
expect() { # what, exit code, words, command ...
  local what=$1 code=$2 words=$3 got=0; shift 3
  printf '\nit rattles\n' | "$@" > "$place/out" 2>&1 || got=$?
  if [ "$got" != "$code" ] || ! grep -q "$words" "$place/out"; then wrong=$((wrong + 1)); echo "WRONG, $what: exit $got"; head -5 "$place/out"; fi
}
expect "a new job" 1 "ead-only file system" "$program" job --plain --data-dir "$place/read/data"
expect "a job taken up" 1 "ead-only file system" "$program" job --plain --resume 1 --data-dir "$place/read/data"
expect "the list" 0 "it rattles like gravel" "$program" jobs --data-dir "$place/read/data"
expect "the record" 0 "remark 60" "$program" record 1 --data-dir "$place/read/data"
expect "a record written there" 1 "ead-only file system" "$program" record 1 --out "$place/read/r.md" --data-dir "$place/read/data"
expect "knowledge unpacked there" 1 "ead-only file system" "$program" knowledge unpack "$place/read/k"
echo "only readable: 6 commands, wrong: $wrong"
[ $((lost + torn + wrong)) -eq 0 ]
