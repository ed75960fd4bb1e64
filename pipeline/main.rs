//! The program's door. Everything it does is in the library.

fn main() -> std::process::ExitCode {
    offloom::cli::run()
}
