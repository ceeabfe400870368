# Lists the recipes.
default:
    @just --list

# Exactly what CI runs.
ci:
    bash .ci/run

# The pages with demo data, on a free port.
demo:
    cargo run --release -p loamwright -- demo --port 0

# The Rust tests.
test:
    cargo test --workspace

# One page with demo data, as a picture at 360 and 1280 px: `just page today`.
page NAME:
    cargo build --release -p loamwright
    cd tests/browser && npm ci && node shots.mjs {{NAME}}

# How fast the engine is.
bench:
    cargo bench -p engine

# The long checks: property tests at length, a larger oracle batch, and the studies of the batch.
study:
    PROPTEST_CASES=20000 cargo test --release --workspace
    bash tests/oracle/run 5000 7 50
    bash tests/oracle/speed
    cargo run --release -p engine --example validate -- 1000
    cargo run --release -p engine --example seasons -- 1000
    cargo run --release -p engine --example rungs_study -- 1000
    cargo run --release -p engine --example sbc -- 200 both
    cargo run --release -p engine --example windows -- cover 200 100
