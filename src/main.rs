//! Starts the program; everything it does is in the library.

fn main() -> std::process::ExitCode {
    weephole::command::main()
}
