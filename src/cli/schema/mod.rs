//! `schema`: what each JSON text in a car's file is made of, as JSON Schema (draft 2020-12).

use std::process::ExitCode;

use super::exits::SAYS_NO;

/// The texts, by the names they have in a car's file, and their schemas.
const SCHEMAS: [(&str, &str, &str); 5] = [
    ("manifest", "manifest.json", include_str!("car-file/manifest.schema.json")),
    ("build", "build.json", include_str!("car-file/build.schema.json")),
    ("records", "records.json", include_str!("car-file/records.schema.json")),
    ("log", "log.json", include_str!("car-file/log.schema.json")),
    ("contents", "rounds/N/contents.json", include_str!("car-file/contents.schema.json")),
];

/// Prints a schema, or which there are.
pub(super) fn print(name: Option<&str>) -> ExitCode {
    let Some(name) = name else {
        for (name, of, _) in SCHEMAS {
            println!("{name}  {of}");
        }
        return ExitCode::SUCCESS;
    };
    let Some((_, _, text)) = SCHEMAS.iter().find(|(one, of, _)| *one == name || *of == name) else {
        eprintln!("There is no schema “{name}”. `tackbook schema` lists them.");
        return ExitCode::from(SAYS_NO);
    };
    print!("{text}");
    ExitCode::SUCCESS
}
