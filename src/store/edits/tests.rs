//! Tests of saved edits: backups, undo, files changed underneath, links, kills.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use super::{EditError, FileEdit, last_edit, save_edit};

fn edit(name: &str, before: Option<&str>, after: Option<&str>) -> FileEdit {
    FileEdit { name: name.to_owned(), before: before.map(str::to_owned), after: after.map(str::to_owned) }
}

fn said(words: &str) -> Vec<String> {
    vec![words.to_owned()]
}

#[test]
fn an_edit_is_saved_backed_up_and_undone_step_by_step() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    fs::create_dir(root.join("findings")).unwrap();
    let file = root.join("findings/delivery.ron");
    fs::write(&file, "one").unwrap();
    assert_eq!(last_edit(root).unwrap(), None);
    assert_eq!(
        save_edit(root, &[edit("findings/delivery.ron", Some("one"), Some("two"))], &said("a"), None, None).unwrap(),
        1
    );
    let both = [edit("findings/delivery.ron", Some("two"), Some("three")), edit("retired.ron", None, Some("new"))];
    assert_eq!(save_edit(root, &both, &said("b"), None, None).unwrap(), 2);
    assert_eq!(fs::read_to_string(root.join("backups/findings_delivery.0002.ron.old")).unwrap(), "two");
    for (number, words, left) in [(2, "b", "two"), (1, "a", "one")] {
        let last = last_edit(root).unwrap().unwrap();
        assert_eq!((last.number, last.words.clone()), (number, said(words)));
        save_edit(root, &last.files, &said("undone"), Some(number), None).unwrap();
        assert_eq!(fs::read_to_string(&file).unwrap(), left);
    }
    assert!(!root.join("retired.ron").exists());
    assert_eq!(last_edit(root).unwrap(), None);
    // Nothing of it would be loaded, and no number is given twice.
    let loaded = crate::store::list(root, "ron").unwrap();
    assert_eq!((loaded.files.len(), loaded.left_out.len()), (1, 0));
    assert_eq!(save_edit(root, &[edit("findings/delivery.ron", Some("one"), Some("x"))], &[], None, None).unwrap(), 5);
}

#[test]
fn a_file_changed_underneath_is_never_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    fs::write(root.join("a.ron"), "mine").unwrap();
    fs::write(root.join("b.ron"), "theirs").unwrap();
    let two = [edit("a.ron", Some("mine"), Some("new")), edit("b.ron", Some("as read"), Some("new"))];
    assert!(matches!(save_edit(root, &two, &[], None, None), Err(EditError::Changed { .. })));
    assert!(matches!(
        save_edit(root, &[edit("a.ron", None, Some("x"))], &[], None, None),
        Err(EditError::Changed { .. })
    ));
    assert!(matches!(
        save_edit(root, &[edit("c.ron", Some("x"), Some("y"))], &[], None, None),
        Err(EditError::Changed { .. })
    ));
    assert_eq!(fs::read_to_string(root.join("a.ron")).unwrap(), "mine");
    assert_eq!(fs::read_to_string(root.join("b.ron")).unwrap(), "theirs");
    save_edit(root, &[edit("a.ron", Some("mine"), Some("new"))], &[], None, None).unwrap();
    fs::write(root.join("a.ron"), "by hand").unwrap();
    let refused = last_edit(root).unwrap_err();
    assert!(matches!(refused, EditError::ChangedSince { number: 1, .. }), "{refused}");
    assert!(refused.to_string().contains("a.0001.ron.old"), "{refused}");
}

#[test]
fn an_edit_cut_short_before_its_second_file_can_be_undone() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    fs::write(root.join("a.ron"), "a").unwrap();
    fs::write(root.join("b.ron"), "b").unwrap();
    let two = [edit("a.ron", Some("a"), Some("new a")), edit("b.ron", Some("b"), Some("new b"))];
    save_edit(root, &two, &[], None, None).unwrap();
    fs::write(root.join("b.ron"), "b").unwrap();
    let last = last_edit(root).unwrap().unwrap();
    save_edit(root, &last.files, &[], Some(last.number), None).unwrap();
    assert_eq!(fs::read_to_string(root.join("a.ron")).unwrap(), "a");
    assert_eq!(fs::read_to_string(root.join("b.ron")).unwrap(), "b");
}

#[test]
fn a_byte_order_mark_stays() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.ron"), "\u{feff}one").unwrap();
    save_edit(folder.path(), &[edit("a.ron", Some("one"), Some("two"))], &[], None, None).unwrap();
    assert_eq!(fs::read_to_string(folder.path().join("a.ron")).unwrap(), "\u{feff}two");
    assert!(last_edit(folder.path()).unwrap().is_some());
}

#[test]
fn names_that_lead_out_of_the_folder_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["../a.ron", "/tmp/a.ron", "a/../../b.ron", "", "."] {
        let refused = save_edit(folder.path(), &[edit(name, None, Some("x"))], &[], None, None);
        assert!(matches!(refused, Err(EditError::LeadsOutside { .. })), "{name}: {refused:?}");
    }
}

#[cfg(unix)]
#[test]
fn links_out_of_the_folder_are_not_followed() {
    use std::os::unix::fs::symlink;
    let folder = tempfile::tempdir().unwrap();
    let (root, outside) = (folder.path().join("in"), folder.path().join("out"));
    fs::create_dir(&root).unwrap();
    fs::create_dir(&outside).unwrap();
    fs::write(outside.join("a.ron"), "x").unwrap();
    symlink(outside.join("a.ron"), root.join("a.ron")).unwrap();
    symlink(&outside, root.join("sub")).unwrap();
    symlink(outside.join("none.ron"), root.join("b.ron")).unwrap();
    for (name, before) in [("a.ron", Some("x")), ("sub/a.ron", Some("x")), ("sub/c.ron", None), ("b.ron", None)] {
        let refused = save_edit(&root, &[edit(name, before, Some("y"))], &[], None, None);
        assert!(matches!(refused, Err(EditError::LeadsOutside { .. })), "{name}: {refused:?}");
    }
    assert_eq!(fs::read_to_string(outside.join("a.ron")).unwrap(), "x");
    let other = folder.path().join("other");
    fs::create_dir(&other).unwrap();
    symlink(&outside, other.join("backups")).unwrap();
    assert!(matches!(save_edit(&other, &[], &[], None, None), Err(EditError::LeadsOutside { .. })));
}

const CHILD_SAVES_IN: &str = "EDIT_TEST_CHILD_SAVES_IN";
/// Bytes of each text: enough that writing them takes several calls.
const LONG: usize = 300_000;

/// Not a test of its own: the process that [`a_kill_leaves_the_old_or_the_new_file`] kills.
#[test]
fn child_that_saves_until_killed() {
    let Some(folder) = std::env::var_os(CHILD_SAVES_IN) else {
        return;
    };
    let root = Path::new(&folder);
    loop {
        let change = |name: &str| {
            let before = fs::read_to_string(root.join(name)).unwrap();
            let letter = if before.starts_with('a') { "b" } else { "a" };
            edit(name, Some(&before), Some(&letter.repeat(LONG)))
        };
        save_edit(root, &[change("one.ron"), change("two.ron")], &[], None, None).unwrap();
    }
}

#[test]
fn a_kill_leaves_the_old_or_the_new_file() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    for name in ["one.ron", "two.ron"] {
        fs::write(root.join(name), "a".repeat(LONG)).unwrap();
    }
    let mut moved = 0;
    let mut seed = 7_u64;
    let mut last = 0;
    for _ in 0..60 {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["child_that_saves_until_killed", "--nocapture"])
            .env(CHILD_SAVES_IN, root)
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        std::thread::sleep(std::time::Duration::from_micros(5_000 + (seed >> 33) % 40_000));
        child.kill().unwrap();
        child.wait().unwrap();
        for name in ["one.ron", "two.ron"] {
            let text = fs::read_to_string(root.join(name)).unwrap();
            let first = &text[..1];
            assert!(text.len() == LONG && text == first.repeat(LONG), "{name} is neither old nor new");
        }
        // Whatever was cut short, the next edit and the last one are still told apart.
        last_edit(root).unwrap();
        let now = super::numbers(&root.join("backups")).map_or(0, |numbers| numbers.last().copied().unwrap_or(0));
        moved += u32::from(last < now);
        last = now;
    }
    assert!(20 < moved, "the child was killed before it saved anything: {moved}");
    let text = fs::read_to_string(root.join("one.ron")).unwrap();
    save_edit(root, &[edit("one.ron", Some(&text), Some("done"))], &[], None, None).unwrap();
}
