//! The unit and the container's recipe call the program in words that it takes, and the unit is one by systemd's own word.

use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::path::Path;
use std::process::{Command, Stdio};

use crate::folder::Folder;
use crate::https::{connected, serve};

const UNIT: &str = include_str!("../../src/startup/serving/tackbook.service");
const RECIPE: &str = include_str!("../../src/startup/serving/Containerfile");

/// Starts the program with these words, but in a folder and at an address of the test's own, and waits until it is open.
fn opens(words: &[String]) {
    let folder = Folder::new();
    let shop = folder.0.join("shop");
    let mut words = words.to_vec();
    for (flag, own) in [("--folder", shop.to_str().unwrap()), ("--listen", "127.0.0.1:0")] {
        let at = words.iter().position(|word| word == flag).unwrap();
        own.clone_into(&mut words[at + 1]);
    }
    let mut program = Command::new(env!("CARGO_BIN_EXE_tackbook"));
    let mut child = program.args(&words).stdout(Stdio::piped()).stderr(Stdio::null()).spawn().unwrap();
    let mut said = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
    let open = said.any(|line| line.starts_with("The shop is open at"));
    let _ = child.kill();
    let _ = child.wait();
    assert!(open, "{words:?}");
}

#[test]
fn the_unit_and_the_recipe_call_the_program_in_words_that_it_takes() {
    let called = UNIT.lines().find_map(|line| line.strip_prefix("ExecStart=/usr/local/bin/tackbook ")).unwrap();
    opens(&called.split(' ').map(str::to_owned).collect::<Vec<_>>());
    let called = RECIPE.lines().find_map(|line| line.strip_prefix("CMD ")).unwrap();
    opens(&serde_json::from_str::<Vec<String>>(called).unwrap());
}

#[test]
fn the_unit_is_one_by_systemds_own_word() {
    // the program lies elsewhere here, and its papers nowhere
    let here = UNIT.replace("/usr/local/bin/tackbook", env!("CARGO_BIN_EXE_tackbook"));
    let here: Vec<&str> = here.lines().filter(|line| !line.starts_with("Documentation=")).collect();
    let folder = Folder::new();
    let unit = folder.0.join("tackbook.service");
    std::fs::create_dir_all(&folder.0).unwrap();
    std::fs::write(&unit, here.join("\n")).unwrap();
    let verified = |unit: &Path| Command::new("systemd-analyze").arg("verify").arg(unit).output();
    let Ok(said) = verified(&unit) else {
        eprintln!("systemd-analyze is not on this machine: the unit was not looked at");
        return;
    };
    let words = String::from_utf8_lossy(&said.stderr).into_owned();
    assert!(said.status.success() && !words.contains("tackbook.service:"), "{words}");
    // and it does tell what is none
    std::fs::write(&unit, here.join("\n").replace("Type=exec", "Typ=exec")).unwrap();
    let said = verified(&unit).unwrap();
    assert!(String::from_utf8_lossy(&said.stderr).contains("Typ"), "{said:?}");
}

#[test]
fn figures_are_told_where_the_call_asked_for_them() {
    for (more, status) in [(&[][..], "404"), (&["--metrics"], "200"), (&["--metrics", "10.1.2.3,10.1.2.4"], "200")] {
        let folder = Folder::new();
        let serving = serve(&folder, more);
        let mut stream = connected(&serving.address);
        stream.write_all(b"GET /metrics HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n").unwrap();
        let mut said = String::new();
        stream.read_to_string(&mut said).unwrap();
        assert!(said.starts_with(&format!("HTTP/1.1 {status}")), "{more:?}: {said}");
        assert_eq!(said.contains("\ntackbook_records_write 1\n"), status == "200", "{said}");
    }
}
