//! What can be called, and what the calls give back.

use std::net::IpAddr;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Parser, Subcommand};

use super::exits::WRONG_CALL;
use super::{
    backup, book_check, builds, car_file, certificate, cut_plan, demo, judge, keys, look_at_photo, packet, person,
    schema, serve, sheets, verify,
};
use crate::demo::Wanted;
use crate::drawing::wrap::Wall;
use crate::quantity::Units;

/// A fabrication shop's build log for roll cages, and the maker of the packet its scrutineer decides from.
///
/// It computes, records and presents; it approves nothing. The governing body's current rule book and its scrutineer
/// decide; structural questions go to a licensed engineer, welds to a qualified welder.
#[derive(Debug, Parser)]
#[command(name = "tackbook", version)]
struct Arguments {
    #[command(subcommand)]
    call: Call,
}

#[derive(Debug, Subcommand)]
enum Call {
    /// Make the demo shop, where there is none, and serve it: invented builds, drawn photographs.
    Demo {
        /// The demo's folder; never a real shop's.
        #[arg(long, default_value = "tackbook-demo")]
        folder: PathBuf,
        /// Address and port to listen on.
        #[arg(long, default_value = "0.0.0.0:7350")]
        listen: String,
        /// How many builds are made, the one to work on first; all when not said.
        #[arg(long)]
        builds: Option<usize>,
        /// At most so many photographs of each build; all when not said.
        #[arg(long)]
        photos: Option<usize>,
        /// When it is whole, one line of JSON: the address and the sign-ins. It answers before.
        #[arg(long)]
        json: bool,
    },
    /// Serve a shop's folder; the first start prints a one-time link that makes the office sign-in.
    Serve {
        /// The shop's folder; made when it is not there.
        #[arg(long)]
        folder: PathBuf,
        /// Address and port to listen on.
        #[arg(long, default_value = "0.0.0.0:7350")]
        listen: String,
        /// Host names this server is reached by, beside its address in figures and those of the shop's own certificate.
        #[arg(long)]
        name: Vec<String>,
        /// A certificate to serve https with, PEM; without it the shop's own, where one was made.
        #[arg(long, requires = "tls_key")]
        tls_cert: Option<PathBuf>,
        /// The certificate's key, PEM.
        #[arg(long, requires = "tls_cert")]
        tls_key: Option<PathBuf>,
        /// A folder, best on another disk, into which a backup is made each night.
        #[arg(long)]
        backup_to: Option<PathBuf>,
        /// Tell figures of how the server runs at /metrics, for Prometheus: to this machine, and to these addresses.
        #[arg(long, value_name = "ADDRESS", num_args = 0.., value_delimiter = ',')]
        metrics: Option<Vec<IpAddr>>,
    },
    /// Make the shop's own authority and a certificate for https, or make the certificate anew.
    Certificate {
        /// The shop's folder.
        #[arg(long)]
        folder: PathBuf,
        /// Names that phones reach this machine by, host names or addresses; those of the machine itself are added.
        #[arg(long = "name")]
        more: Vec<String>,
        /// The same, without the word.
        names: Vec<String>,
    },
    /// List a shop's builds.
    Builds {
        /// The shop's folder.
        #[arg(long)]
        folder: PathBuf,
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// Write a build's packet: as it stands, marked as a draft, or a round as it was issued.
    Packet {
        /// The shop's folder.
        #[arg(long)]
        folder: PathBuf,
        /// The build, by its name in addresses: teasel-coupe.
        build: String,
        /// The round; the draft when not said.
        #[arg(long)]
        round: Option<u32>,
        /// Print a draft in metric units.
        #[arg(long)]
        metric: bool,
        /// The PDF to write.
        #[arg(long)]
        out: PathBuf,
    },
    /// Make the fabrication sheets of a cage file: cut list, bend marks, cope templates and blanks at full size, views.
    /// Needs no shop.
    Sheets {
        /// The cage file, JSON.
        cage: PathBuf,
        /// The folder to write into; made when it is not there.
        #[arg(long)]
        out: PathBuf,
        /// Print in metric units.
        #[arg(long)]
        metric: bool,
        /// Make the cope templates for the inner edge of the tube's wall, not the outer.
        #[arg(long)]
        inner_wall: bool,
    },
    /// Say what each rule of a book says of a build file. Needs no shop.
    Judge {
        /// The rule book, TOML.
        #[arg(long)]
        book: PathBuf,
        /// The build file, JSON, as a build's build.json gives it.
        #[arg(long)]
        build: PathBuf,
        /// The day of judging; today when not said.
        #[arg(long)]
        day: Option<jiff::civil::Date>,
        /// Print in metric units.
        #[arg(long)]
        metric: bool,
        /// As JSON, in base units.
        #[arg(long)]
        json: bool,
    },
    /// Plan which piece is cut from which stick: of a cage file, or of a table of pieces. Needs no shop.
    Cuts(Box<cut_plan::Wanted>),
    /// Work with a rule book's file.
    Book {
        #[command(subcommand)]
        call: BookCall,
    },
    /// Look at one photograph, read from the standard input; the server starts this as a process of its own.
    #[command(hide = true)]
    LookAtPhoto,
    /// Add, reset or remove a sign-in from this machine, while the shop is not served.
    Person {
        /// The shop's folder.
        #[arg(long)]
        folder: PathBuf,
        #[command(subcommand)]
        deed: person::Deed,
    },
    /// Save the shop's keys under a passphrase, or restore them: keys are in no backup.
    Keys {
        #[command(subcommand)]
        deed: keys::Deed,
    },
    /// Make a backup of a shop: its records and every photograph and packet, each read again. The shop may be open meanwhile.
    Backup {
        /// The shop's folder.
        #[arg(long)]
        folder: PathBuf,
        /// The backups' folder, best on another disk; made when it is not there. What it has already is not copied again.
        #[arg(long)]
        to: PathBuf,
    },
    /// Make a shop's folder out of a backup, and check everything in it.
    Restore {
        /// The backups' folder.
        #[arg(long)]
        from: PathBuf,
        /// Which one: backup-….json; the newest when not said.
        #[arg(long)]
        of: Option<String>,
        /// The folder to make; it must be empty or not there.
        #[arg(long)]
        folder: PathBuf,
    },
    /// Save a car's file: all that is recorded of one build, its photographs, rounds and log, in one signed archive that opens in
    /// a browser, and loads into another shop. Works beside a shop that is served.
    Save {
        /// The shop's folder.
        #[arg(long)]
        folder: PathBuf,
        /// The build, by its name in addresses: teasel-coupe.
        build: String,
        /// The archive to write.
        #[arg(long)]
        out: PathBuf,
    },
    /// Load a car from its file into a shop, or begin a new build by it. A file that is damaged, or is none, changes nothing.
    Load {
        /// The shop's folder.
        #[arg(long)]
        folder: PathBuf,
        /// The car's file.
        file: PathBuf,
        /// Do not load the car: begin a build of this name with the file as its pattern, for the same shell. What was chosen of
        /// the cage is taken over; its figures are not this car's until somebody states them on its sheet.
        #[arg(long, value_name = "NAME")]
        as_pattern_for: Option<String>,
        /// With a pattern: the name is another car's too, and this is a new one.
        #[arg(long, requires = "as_pattern_for")]
        another_car: bool,
    },
    /// Print what a JSON text in a car's file is made of, as JSON Schema (draft 2020-12). Needs no shop.
    Schema {
        /// Which: manifest, build, records, log or contents; without it the list of them.
        name: Option<String>,
    },
    /// Check packets against the signature beside each, FILE.sig, and cars' files against the one in them; or, of a shop, that nothing kept was altered: the log's
    /// chain, every photograph, every packet. Works beside a shop that is served.
    Verify {
        /// The packets and cars' files.
        #[arg(required_unless_present = "folder", conflicts_with = "folder")]
        files: Vec<PathBuf>,
        /// The keys that may have signed: a list of allowed signers, or public keys as OpenSSH writes them.
        #[arg(long, requires = "files")]
        key: Option<PathBuf>,
        /// The shop's folder.
        #[arg(long)]
        folder: Option<PathBuf>,
    },
}

#[derive(Debug, Subcommand)]
enum BookCall {
    /// Read a rule book and tell every mistake by line.
    Check {
        /// The book, TOML.
        file: PathBuf,
    },
}

/// Reads the call and does it.
pub async fn run() -> ExitCode {
    let done = match Arguments::parse().call {
        Call::Demo { folder, listen, builds, photos, json } => {
            let all = Wanted::default();
            let wanted = Wanted { builds: builds.unwrap_or(all.builds), photos: photos.unwrap_or(all.photos) };
            demo::demo(&folder, &listen, wanted, json).await
        }
        Call::Serve { folder, listen, name, tls_cert, tls_key, backup_to, metrics } => {
            let given = tls_cert.as_deref().zip(tls_key.as_deref());
            serve::serve(&folder, &listen, name, (given, backup_to), metrics).await
        }
        Call::Certificate { folder, more, names } => certificate::make(&folder, &[more, names].concat()),
        Call::Builds { folder, json } => builds::list(&folder, json).await,
        Call::Packet { folder, build, round, metric, out } => {
            let units = if metric { Units::Metric } else { Units::Inch };
            packet::write(&folder, &build, round, units, &out).await
        }
        Call::Sheets { cage, out, metric, inner_wall } => {
            let units = if metric { Units::Metric } else { Units::Inch };
            sheets::write(&cage, units, if inner_wall { Wall::Inner } else { Wall::Outer }, &out)
        }
        Call::Judge { book, build, day, metric, json } => {
            judge::judge(&book, &build, day, if metric { Units::Metric } else { Units::Inch }, json)
        }
        Call::Cuts(wanted) => cut_plan::write(&wanted),
        Call::Book { call: BookCall::Check { file } } => book_check::check(&file),
        Call::LookAtPhoto => Ok(look_at_photo::look()),
        Call::Person { folder, deed } => person::act(&folder, &deed).await,
        Call::Keys { deed } => keys::act(&deed),
        Call::Backup { folder, to } => backup::take(&folder, &to).await,
        Call::Save { folder, build, out } => car_file::save(&folder, &build, &out).await,
        Call::Load { folder, file, as_pattern_for: None, .. } => car_file::load(&folder, &file).await,
        Call::Load { folder, file, as_pattern_for: Some(name), another_car } => {
            car_file::begin(&folder, &file, name, another_car).await
        }
        Call::Restore { from, of, folder } => backup::restore(&from, of.as_deref(), &folder).await,
        Call::Schema { name } => Ok(schema::print(name.as_deref())),
        Call::Verify { folder: Some(folder), .. } => verify::shop(&folder).await,
        Call::Verify { files, key, folder: None } => verify::files(&files, key.as_deref()),
    };
    match done {
        Ok(code) => code,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::from(WRONG_CALL)
        }
    }
}
