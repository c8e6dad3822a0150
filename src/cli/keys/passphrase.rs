//! A passphrase: asked for at the terminal without showing it, or the first line of the standard input.

use std::io::{self, BufRead as _, IsTerminal as _, Read as _, Stdin, Write as _};

use rustix::termios::{LocalModes, OptionalActions, Termios, tcgetattr, tcsetattr};

/// Most bytes of a line that is read.
const MOST_BYTES: u64 = 8 << 10;

/// A passphrase that is thought up now: at the terminal it is asked for twice. What is wrong with it is said before it is asked
/// for again by the second line.
pub(super) fn new(fault: impl Fn(&str) -> Option<String>) -> io::Result<Result<String, String>> {
    let first = asked("A passphrase for the keys: ")?;
    if let Some(why) = fault(&first) {
        return Ok(Err(why));
    }
    if io::stdin().is_terminal() && asked("The same again: ")? != first {
        return Ok(Err("The two were not the same. Nothing was written.".to_owned()));
    }
    Ok(Ok(first))
}

/// One that was thought up before.
pub(super) fn known() -> io::Result<String> {
    asked("The passphrase of the keys: ")
}

fn asked(words: &str) -> io::Result<String> {
    let input = io::stdin();
    if !input.is_terminal() {
        return line(&input);
    }
    let mut out = io::stderr();
    write!(out, "{words}")?;
    out.flush()?;
    let unseen = Unseen::of(&input)?;
    let typed = line(&input);
    drop(unseen);
    // the end of the line that was typed was not shown either
    writeln!(out)?;
    typed
}

/// The first line, without its end.
fn line(input: &Stdin) -> io::Result<String> {
    let mut typed = String::new();
    input.lock().take(MOST_BYTES).read_line(&mut typed)?;
    Ok(typed.trim_end_matches(['\r', '\n']).to_owned())
}

/// A terminal that does not show what is typed, as long as this lives.
struct Unseen<'i> {
    input: &'i Stdin,
    before: Termios,
}

impl<'i> Unseen<'i> {
    fn of(input: &'i Stdin) -> io::Result<Self> {
        let before = tcgetattr(input)?;
        let mut now = before.clone();
        now.local_modes.remove(LocalModes::ECHO);
        tcsetattr(input, OptionalActions::Flush, &now)?;
        Ok(Self { input, before })
    }
}

impl Drop for Unseen<'_> {
    fn drop(&mut self) {
        // a terminal that is gone shows nothing anyway
        let _ = tcsetattr(self.input, OptionalActions::Flush, &self.before);
    }
}
