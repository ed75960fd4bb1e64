//! Makes a bundle of a folder's files, as `finish` does it when the papers are there: for `tests/bench/bundle`.
//!
//!     bundle_maker FOLDER SHELF NAME
//!
//! The folder's files become the payload of SHELF/NAME.r1.zip.

use std::path::Path;
use std::process::ExitCode;

use offloom::bundle::{BagInfo, BundleName, Contents, Edition, Item, Source, issue};
use offloom::disk::list_folder;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [folder, shelf, name] = arguments.as_slice() else {
        eprintln!("bundle_maker FOLDER SHELF NAME");
        return ExitCode::from(2);
    };
    match make(Path::new(folder), Path::new(shelf), name) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::FAILURE
        }
    }
}

fn make(folder: &Path, shelf: &Path, name: &str) -> Result<(), String> {
    let listing = list_folder(folder).map_err(|e| e.to_string())?;
    let payload = listing.files.into_iter().map(|file| Item {
        path: file.relative,
        from: Source::File {
            path: file.path,
            size: file.size,
        },
    });
    let contents = Contents {
        name: BundleName::new(name, 1, Edition::Studio).map_err(|e| e.to_string())?,
        payload: payload.collect(),
        info: BagInfo(vec![(
            "Source-Organization".into(),
            "Brackwater Tapestry".into(),
        )]),
        tags: Vec::new(),
    };
    issue(shelf, &contents, &mut |_| {}, &|| false).map_err(|e| e.to_string())?;
    Ok(())
}
