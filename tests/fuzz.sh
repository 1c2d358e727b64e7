#!/usr/bin/env bash
# Feeds every reader, and the whole way to a page, with bytes nobody wrote. Bounded; no part of tests/full.sh.
#
#   bash tests/fuzz.sh [seconds a target]
#
# With nightly Rust and cargo-fuzz (`cargo install cargo-fuzz --locked`) libFuzzer drives the targets, at most 512 MB and ten seconds an
# input; without, stable Rust runs the same targets over the kept corpus and 2,000 mutations each. Both say which it was.
# What libFuzzer finds new stays in target/fuzz/; an input that fails is told with its path, and belongs into a test.
set -uo pipefail
cd "$(dirname "$0")/.."

seconds=${1:-30}
targets=(visit client salon passage calendar bookings pages)
export CARGO_TARGET_DIR="$PWD/target"
failed=()

if cargo +nightly fuzz --version >/dev/null 2>&1; then
  echo "libFuzzer, $seconds seconds a target"
  export CARGO_TARGET_DIR="$PWD/target/fuzz"
  for target in "${targets[@]}"; do
    found="$CARGO_TARGET_DIR/corpus/$target"
    mkdir -p "$found"
    cargo +nightly fuzz run --fuzz-dir tests/fuzz "$target" "$found" "tests/fuzz/corpus/$target" -- \
      -max_total_time="$seconds" -timeout=10 -rss_limit_mb=512 -max_len=8192 -print_final_stats=1 || failed+=("$target")
  done
else
  echo "no nightly Rust or no cargo-fuzz here: the targets run on stable over the corpus and its mutations"
  for target in "${targets[@]}"; do
    cargo run --quiet --manifest-path tests/fuzz/Cargo.toml --bin "$target" || failed+=("$target")
  done
fi

if [ ${#failed[@]} -gt 0 ]; then
  printf 'failed: %s\n' "${failed[@]}"
  exit 1
fi
echo "no target failed"
