//! `quarterturn`: see an end-grain board, and every number for it, before the first cut.

use std::process::ExitCode;

fn main() -> ExitCode {
    quarterturn::run(std::env::args_os()).into()
}
