//! Broken archives that a repository can not hold: each is the plain archive, spoiled in one way.
//! A maker says `false` where this system or this user can not do it.

use std::fs;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::Path;

/// Spoils the archive in the folder.
pub type Maker = fn(&Path) -> bool;

/// Every one by its aspect.
pub const ALL: &[(&str, Maker)] = &[
    (
        "accent-stored-as-two-characters",
        accent_stored_as_two_characters,
    ),
    ("alias-bomb", alias_bomb),
    ("awkward-but-fine-names", awkward_but_fine_names),
    (
        "byte-order-mark-and-line-ends",
        byte_order_mark_and_line_ends,
    ),
    ("deep-nesting", deep_nesting),
    ("link-to-nowhere", link_to_nowhere),
    (
        "link-to-the-photos-of-another-disk",
        link_to_the_photos_of_another_disk,
    ),
    ("link-out-of-the-folder", link_out_of_the_folder),
    ("name-with-a-line-end", name_with_a_line_end),
    ("name-that-is-not-utf-8", name_that_is_not_utf_8),
    ("names-alike", names_alike),
    ("names-for-one-system-alone", names_for_one_system_alone),
    ("no-permission", no_permission),
    ("piece-yaml-is-a-folder", piece_yaml_is_a_folder),
    ("piece-yaml-is-a-link", piece_yaml_is_a_link),
    ("socket", socket),
    (
        "two-hundred-megabytes-of-yaml",
        two_hundred_megabytes_of_yaml,
    ),
    ("ninety-thousand-fields", ninety_thousand_fields),
    ("two-hundred-thousand-fields", two_hundred_thousand_fields),
];

const PHOTO: &str = "stands for a photograph";

fn write(path: &Path, text: impl AsRef<[u8]>) -> bool {
    path.parent().is_none_or(|p| fs::create_dir_all(p).is_ok()) && fs::write(path, text).is_ok()
}

fn piece(root: &Path) -> std::path::PathBuf {
    root.join("pieces/p/piece.yaml")
}

fn append(root: &Path, lines: &str) -> bool {
    let text = fs::read_to_string(piece(root)).unwrap_or_default();
    write(&piece(root), text + lines)
}

fn replace(root: &Path, from: &str, to: &str) -> bool {
    let text = fs::read_to_string(piece(root)).unwrap_or_default();
    assert!(text.contains(from), "the plain archive holds {from}");
    write(&piece(root), text.replace(from, to))
}

/// No finding: written as one character, stored as two (Unicode, UAX #15).
fn accent_stored_as_two_characters(root: &Path) -> bool {
    write(&root.join("pieces/p/photos/de\u{301}tail.jpg"), PHOTO)
        && replace(
            root,
            "photos: [",
            "photos: [{file: \"d\u{e9}tail.jpg\", view: detail, alt: A slit}, ",
        )
}

fn alias_bomb(root: &Path) -> bool {
    let mut lines =
        String::from("a0: &a0 [wool, wool, wool, wool, wool, wool, wool, wool, wool]\n");
    for i in 1..30 {
        let before = format!("*a{}", i - 1);
        let nine = vec![before; 9].join(", ");
        lines.push_str(&format!("a{i}: &a{i} [{nine}]\n"));
    }
    append(root, &lines)
}

/// No finding: blanks, accents, a pictograph, right-to-left letters, a leading hyphen.
fn awkward_but_fine_names(root: &Path) -> bool {
    let names = [
        "-front  view.jpg",
        "d\u{e9}tail d\u{2019}eau.jpg",
        "\u{1f9f6}.jpg",
        "\u{5e9}\u{5dc}\u{5d5}\u{5dd}.jpg",
    ];
    let listed: String = names
        .iter()
        .map(|n| format!("{{file: \"{n}\", view: detail, alt: A slit}}, "))
        .collect();
    names
        .iter()
        .all(|n| write(&root.join("pieces/p/photos").join(n), PHOTO))
        && replace(root, "photos: [", &format!("photos: [{listed}"))
}

/// One finding, at its right place.
fn byte_order_mark_and_line_ends(root: &Path) -> bool {
    append(root, "tecnique: slit tapestry\n");
    let text = fs::read_to_string(piece(root)).unwrap_or_default();
    write(
        &piece(root),
        format!("\u{feff}{}", text.replace('\n', "\r\n")),
    )
}

fn deep_nesting(root: &Path) -> bool {
    append(root, &format!("credits: {}\n", "[".repeat(100_000)))
}

fn link_to_nowhere(root: &Path) -> bool {
    symlink("gone.txt", root.join("pieces/p/letter.txt")).is_ok()
}

fn link_to_the_photos_of_another_disk(root: &Path) -> bool {
    let outside = root.with_file_name("outside");
    let photos = root.join("pieces/p/photos");
    write(&outside.join("front.jpg"), PHOTO)
        && fs::remove_dir_all(&photos).is_ok()
        && symlink("../../../outside", &photos).is_ok()
}

fn link_out_of_the_folder(root: &Path) -> bool {
    write(&root.with_file_name("secret.txt"), "outside")
        && symlink("../../../secret.txt", root.join("pieces/p/letter.txt")).is_ok()
}

fn name_with_a_line_end(root: &Path) -> bool {
    write(&root.join("pieces/p/photos/two\nlines.jpg"), PHOTO)
        && replace(
            root,
            "photos: [",
            "photos: [{file: \"two\\nlines.jpg\", view: detail, alt: A slit}, ",
        )
}

fn name_that_is_not_utf_8(root: &Path) -> bool {
    use std::os::unix::ffi::OsStrExt;
    let name = std::ffi::OsStr::from_bytes(b"caf\xe9.txt");
    write(&root.join("pieces/p").join(name), "octets")
}

fn names_alike(root: &Path) -> bool {
    write(&root.join("pieces/p/Letter.txt"), "one")
        && write(&root.join("pieces/p/letter.txt"), "two")
}

fn names_for_one_system_alone(root: &Path) -> bool {
    [
        "which way up?.txt",
        "nul.txt",
        "letters/dear..txt",
        "-dash.txt",
    ]
    .iter()
    .all(|name| write(&root.join("pieces/p").join(name), "words"))
}

fn no_permission(root: &Path) -> bool {
    let notes = root.join("pieces/p/notes.md");
    write(&notes, "## 2026-03-04 · 5 h\n");
    let closed = fs::Permissions::from_mode(0o000);
    fs::set_permissions(&notes, closed).is_ok() && fs::read(&notes).is_err()
}

fn piece_yaml_is_a_folder(root: &Path) -> bool {
    fs::remove_file(piece(root)).is_ok() && fs::create_dir(piece(root)).is_ok()
}

fn piece_yaml_is_a_link(root: &Path) -> bool {
    let outside = root.with_file_name("piece.yaml");
    fs::rename(piece(root), outside).is_ok() && symlink("../../../piece.yaml", piece(root)).is_ok()
}

fn socket(root: &Path) -> bool {
    std::os::unix::net::UnixListener::bind(root.join("pieces/p/talk.sock")).is_ok()
}

/// A file of 200 MB that takes no room on the disk.
fn two_hundred_megabytes_of_yaml(root: &Path) -> bool {
    fs::File::create(piece(root)).is_ok_and(|f| f.set_len(200 * 1024 * 1024).is_ok())
}

/// Just under what is unfolded: must neither take for ever nor flood her with findings.
fn ninety_thousand_fields(root: &Path) -> bool {
    let lines: String = (0..90_000).map(|i| format!("a{i}: 1\n")).collect();
    append(root, &lines)
}

fn two_hundred_thousand_fields(root: &Path) -> bool {
    let lines: String = (0..200_000).map(|i| format!("a{i}: 1\n")).collect();
    append(root, &lines)
}
