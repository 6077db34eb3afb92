//! Turns what is typed at the end of a job into what may stand in its record: initials and role, a day, a photo's name.

use crate::text::clean;
use jiff::civil::Date;

/// Endings of files that hold pictures.
const PICTURES: &[&str] = &["jpg", "jpeg", "png", "heic", "webp", "tif", "tiff", "gif", "bmp", "dng"];

/// Initials and role, such as `R.K., fitter`: one to four capitals, then at most a role. Names do not belong in a record.
pub fn initials_and_role(typed: &str) -> Result<String, String> {
    let typed = clean(typed).trim().to_owned();
    let (first, role) = match typed.split_once([',', ' ']) {
        Some((first, role)) => (first.trim(), role.trim_start_matches([',', ' ']).trim()),
        None => (typed.as_str(), ""),
    };
    let letters: Vec<char> = first.chars().filter(|letter| !matches!(letter, '.' | '-')).collect();
    let initials = (1..=4).contains(&letters.len()) && letters.iter().all(|letter| letter.is_uppercase());
    // A role is a common word: it needs no capital. "K. Berger" would pass as initials and a name.
    let no_name = role.split_whitespace().all(|word| {
        let capital = word.chars().next().is_some_and(char::is_uppercase);
        !capital || word.chars().all(|letter| !letter.is_lowercase())
    });
    if initials && no_name && role.chars().count() <= 30 {
        Ok(if role.is_empty() { first.to_owned() } else { format!("{first}, {role}") })
    } else {
        Err("Initials and role only, such as: R.K., fitter. The role in small letters; no names.".to_owned())
    }
}

/// A day, written 2026-12-01, not before `today`.
pub fn follow_up_day(typed: &str, today: Date) -> Result<Date, String> {
    let day: Date = typed.trim().parse().map_err(|_| "Write the day like this: 2026-12-01.".to_owned())?;
    if day < today {
        return Err(format!("{day} is before the last entry of this job ({today})."));
    }
    Ok(day)
}

/// The remark that names a photo: a file name and what it shows; folders in front of the name are left out. None if it is no
/// picture's name.
pub fn photo_note(typed: &str) -> Option<String> {
    let (file, shows) = typed.trim().split_once(char::is_whitespace).unwrap_or((typed.trim(), ""));
    let name = file.rsplit(['/', '\\']).next().unwrap_or(file);
    let (stem, ending) = name.rsplit_once('.')?;
    if stem.is_empty() || !PICTURES.iter().any(|known| known.eq_ignore_ascii_case(ending)) {
        return None;
    }
    let shows = shows.trim();
    Some(if shows.is_empty() { format!("photo {name}") } else { format!("photo {name}: {shows}") })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{follow_up_day, initials_and_role, photo_note};
    use jiff::civil::date;

    #[test]
    fn initials_and_a_role_are_taken_and_names_are_not() {
        for (typed, kept) in [
            ("R.K., fitter", "R.K., fitter"),
            ("RK fitter", "RK, fitter"),
            (" A.-B. ,shift lead ", "A.-B., shift lead"),
            ("ÖZ", "ÖZ"),
            ("M, QA", "M, QA"),
        ] {
            assert_eq!(initials_and_role(typed).unwrap(), kept);
        }
        for name in ["Rolf Kramer, fitter", "K. Berger", "rk, fitter", "", "R.K., Rolf Kramer", "ABCDE, fitter", "12"] {
            assert!(initials_and_role(name).unwrap_err().contains("R.K., fitter"), "{name}");
        }
    }

    #[test]
    fn a_day_is_read_and_must_not_be_past() {
        let today = date(2026, 11, 2);
        assert_eq!(follow_up_day(" 2026-12-01 ", today).unwrap(), date(2026, 12, 1));
        assert_eq!(follow_up_day("2026-11-02", today).unwrap(), today);
        for wrong in ["2026-11-01", "1.12.2026", "2026-02-30", "soon", ""] {
            assert!(follow_up_day(wrong, today).is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_photo_is_kept_by_its_name_alone() {
        assert_eq!(photo_note("/home/x/IMG_1.JPG torn at the rim").unwrap(), "photo IMG_1.JPG: torn at the rim");
        assert_eq!(photo_note("C:\\pics\\a.png").unwrap(), "photo a.png");
        for wrong in ["", "torn.txt", ".jpg", "jpg", "a/"] {
            assert!(photo_note(wrong).is_none(), "{wrong}");
        }
    }
}
