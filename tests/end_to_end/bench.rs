//! A workbench for the tests: an archive in a folder of its own, the program with an empty environment,
//! and everything it said in one value that prints as a full report when a test fails.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

/// An archive in a temporary folder.
pub struct Bench {
    folder: tempfile::TempDir,
}

/// What a run said.
#[derive(Debug)]
pub struct Said {
    pub code: Option<i32>,
    pub out: String,
    pub err: String,
}

impl Said {
    /// Fails, with everything said, unless the run ended with this code.
    #[track_caller]
    pub fn ends(self, code: i32) -> Said {
        assert_eq!(
            self.code,
            Some(code),
            "\n--- out\n{}\n--- err\n{}",
            self.out,
            self.err
        );
        self
    }

    /// Standard output as JSON.
    #[track_caller]
    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.out).unwrap_or_else(|e| panic!("{e}\n{}", self.out))
    }

    /// Names and places of the findings in a JSON answer.
    #[track_caller]
    pub fn findings(&self) -> Vec<String> {
        let json = self.json();
        let all = json["findings"].as_array().expect("findings");
        all.iter()
            .map(|f| {
                format!(
                    "{} {} {}:{}:{}",
                    f["rank"].as_str().unwrap(),
                    f["name"].as_str().unwrap(),
                    f["file"].as_str().unwrap(),
                    f["line"],
                    f["column"]
                )
            })
            .collect()
    }
}

/// The smallest piece there can be.
pub const SMALL_PIECE: &str = "title: Small Piece\nmade: 2026\nwarp: {fibre: {cotton: 100}}\nweft: [{fibre: {wool: 100}}]\nmeasured: {height: 40 cm, width: 30 cm}\n";

impl Bench {
    /// An empty folder.
    pub fn empty() -> Bench {
        Bench {
            folder: tempfile::tempdir().unwrap(),
        }
    }

    /// A studio without photographs and pieces as given.
    pub fn with_pieces(pieces: &[(&str, &str)]) -> Bench {
        let bench = Bench::empty();
        bench.put("studio.yaml", "studio: Test Loom\nweaver: Ada Reed\n");
        for (slug, text) in pieces {
            bench.put(&format!("pieces/{slug}/piece.yaml"), text);
        }
        bench
    }

    /// A copy of the sample archive.
    pub fn sample() -> Bench {
        let bench = Bench::empty();
        copy(
            &Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-archive"),
            &bench.root(),
        );
        bench
    }

    /// A copy of some of the sample archive's pieces.
    pub fn sample_pieces(slugs: &[&str]) -> Bench {
        let bench = Bench::sample();
        for entry in std::fs::read_dir(bench.path("pieces")).unwrap() {
            let entry = entry.unwrap();
            if !slugs.contains(&entry.file_name().to_str().unwrap()) {
                std::fs::remove_dir_all(entry.path()).unwrap();
            }
        }
        bench
    }

    /// The archive's folder.
    pub fn root(&self) -> PathBuf {
        self.folder.path().join("studio")
    }

    /// A path in the archive.
    pub fn path(&self, relative: &str) -> PathBuf {
        self.root().join(relative)
    }

    /// Writes a file.
    pub fn put(&self, relative: &str, text: impl AsRef<[u8]>) {
        let path = self.path(relative);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }

    /// The program with an empty environment, in the folder above the archive.
    pub fn program(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_offloom"));
        command.env_clear().current_dir(self.folder.path());
        command
    }

    /// Runs the program.
    pub fn run(&self, arguments: &[&str]) -> Said {
        said(self.program().args(arguments))
    }

    /// Every file of a folder in the archive with its bytes.
    pub fn files(&self, relative: &str) -> BTreeMap<String, Vec<u8>> {
        let root = self.path(relative);
        walkdir::WalkDir::new(&root)
            .into_iter()
            .map(Result::unwrap)
            .filter(|e| e.file_type().is_file())
            .map(|e| {
                let name = e
                    .path()
                    .strip_prefix(&root)
                    .unwrap()
                    .to_str()
                    .unwrap()
                    .to_string();
                (name, std::fs::read(e.path()).unwrap())
            })
            .collect()
    }
}

/// Runs a command to its end.
pub fn said(command: &mut Command) -> Said {
    let done = command.output().unwrap();
    Said {
        code: done.status.code(),
        out: String::from_utf8_lossy(&done.stdout).into_owned(),
        err: String::from_utf8_lossy(&done.stderr).into_owned(),
    }
}

/// Copies a folder without its output.
pub fn copy(from: &Path, to: &Path) {
    for entry in walkdir::WalkDir::new(from) {
        let entry = entry.unwrap();
        let relative = entry.path().strip_prefix(from).unwrap();
        if relative.starts_with("finished") {
            continue;
        }
        let target = to.join(relative);
        if entry.file_type().is_dir() {
            std::fs::create_dir_all(target).unwrap();
        } else {
            std::fs::copy(entry.path(), target).unwrap();
        }
    }
}
