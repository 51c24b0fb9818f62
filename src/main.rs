//! The program; all of it lives in the library.

fn main() -> std::process::ExitCode {
    understudy::cli::run(std::env::args_os())
}
