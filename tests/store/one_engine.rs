//! The door for a second engine: outside `store/engine` nothing names SQLite, in types or in words that only it reads; and
//! the vault is asked four things alone.

use std::path::{Path, PathBuf};

/// Types and paths of the one engine.
const TYPES: &[&str] = &["Sqlite", "sqlx::sqlite", "libsqlite", "sqlx::migrate!"];
/// Words of SQL that only this engine reads, or reads its own way; none of them stands in a query.
const WORDS: &[&str] = &[
    "->>",
    "json_",
    "jsonb_",
    "PRAGMA",
    "pragma_",
    "VACUUM",
    "sqlite_",
    "BEGIN IMMEDIATE",
    "INSERT OR ",
    "IFNULL(",
    "strftime('",
    "datetime(",
    "julianday(",
    "unixepoch(",
    "rowid",
    " GLOB ",
    "group_concat(",
    "NOCASE",
    "CROSS JOIN",
    "typeof(",
    "printf(",
    "INDEXED BY",
    "AUTOINCREMENT",
    "total_changes",
    "last_insert",
];
/// What the vault is asked from outside `store`.
const ASKED: [&str; 4] = ["put", "get", "parts", "list"];

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
        if entry.is_dir() { found.extend(files(&entry)) } else { found.push(entry) }
    }
    found
}

/// The lines of a source that are read by the compiler: not what its comments say.
fn code(source: &str) -> impl Iterator<Item = (usize, &str)> {
    (1..).zip(source.lines()).filter(|(_, line)| !line.trim_start().starts_with("//"))
}

/// What of a source outside `store/engine` only one engine could be behind.
fn of_one_engine(source: &str) -> Vec<String> {
    let mut faults = Vec::new();
    for (number, line) in code(source) {
        faults.extend(
            TYPES.iter().chain(WORDS).filter(|word| line.contains(**word)).map(|word| format!("{number}: {word}")),
        );
        // the greater of two values is MAX in this engine alone; MAX of a column has one
        for rest in ["MAX(", "MIN("].into_iter().flat_map(|name| line.split(name).skip(1)) {
            if rest.split(')').next().is_some_and(|inside| inside.contains(',')) && line.contains('"') {
                faults.push(format!("{number}: MAX or MIN of two"));
            }
        }
    }
    faults
}

/// The names of the methods that a source gives everybody on a type.
fn given(source: &str, of: &str) -> Vec<String> {
    let Some((_, body)) = source.split_once(&format!("\nimpl {of} {{\n")) else { return Vec::new() };
    let body = body.split_once("\n}\n").map_or(body, |(body, _)| body);
    let named = |line: &str| {
        let rest = line.strip_prefix("    pub async fn ").or_else(|| line.strip_prefix("    pub fn "))?;
        Some(rest.split(['(', '<']).next().unwrap_or_default().to_owned())
    };
    body.lines().filter_map(named).collect()
}

#[test]
fn nothing_outside_the_engine_names_it() {
    let store = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/store");
    let mut faults = Vec::new();
    let sources: Vec<PathBuf> =
        files(&store).into_iter().filter(|file| !file.starts_with(store.join("engine"))).collect();
    assert!(sources.len() > 40, "{}", sources.len());
    for file in sources {
        let source = std::fs::read_to_string(&file).unwrap();
        faults.extend(of_one_engine(&source).into_iter().map(|fault| format!("{}:{fault}", file.display())));
    }
    assert!(faults.is_empty(), "Put these behind src/store/engine:\n{}", faults.join("\n"));
}

#[test]
fn the_vault_is_asked_four_things() {
    let vault = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/store/vault");
    let mut asked = Vec::new();
    for file in files(&vault) {
        asked.extend(given(&std::fs::read_to_string(file).unwrap(), "Vault"));
    }
    asked.sort();
    let mut wanted = ASKED.map(str::to_owned);
    wanted.sort();
    assert_eq!(asked, wanted, "an object store could not be asked more");
    // and a place on the disk is given to nobody
    for file in files(&vault) {
        let source = std::fs::read_to_string(&file).unwrap();
        let told = code(&source).filter(|(_, line)| line.trim_start().starts_with("pub ") && line.contains("Path"));
        assert_eq!(
            told.map(|(_, line)| line.to_owned()).collect::<Vec<_>>(),
            Vec::<String>::new(),
            "{}",
            file.display()
        );
    }
}

#[test]
fn planted_faults_are_found() {
    for planted in [
        "use sqlx::SqliteExecutor;",
        "use sqlx::sqlite::SqlitePool;",
        "sqlx::query(\"SELECT detail ->> 'shot' FROM log\")",
        "sqlx::query(\"PRAGMA integrity_check\")",
        "sqlx::query(\"UPDATE sessions SET seen = MAX(seen, $2)\")",
        "let copy = \"VACUUM INTO $1\";",
    ] {
        assert!(!of_one_engine(planted).is_empty(), "{planted}");
    }
    for fine in ["// SQLite says PRAGMA", "sqlx::query(\"SELECT MAX(number) FROM log\")", "use sqlx::FromRow;"] {
        assert_eq!(of_one_engine(fine), Vec::<String>::new(), "{fine}");
    }
    let source = "\nimpl Vault {\n    pub async fn get(&self) {}\n    pub(super) fn desk(&self) {}\n    pub fn path(&self) {}\n}\n";
    assert_eq!(given(source, "Vault"), ["get", "path"]);
}
