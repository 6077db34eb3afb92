//! `weephole knowledge picture, wall`: the cause graph as a drawing and as tables for the wall.

use super::arguments::{Arguments, PictureFormat};
use super::{Failure, bring, print};
use crate::knowledge::did_you_mean;
use crate::picture::{Sketch, dot, svg};
use crate::text::clean;

/// Prints a picture of the graph, or of what is around one entry.
pub fn picture(
    arguments: &Arguments,
    format: PictureFormat,
    around: Option<&str>,
    steps: usize,
) -> Result<(), Failure> {
    let knowledge = bring::knowledge(arguments)?;
    let sketch = match around {
        None => Sketch::whole(&knowledge),
        Some(id) => Sketch::around(&knowledge, id, steps).ok_or_else(|| {
            let whole = Sketch::whole(&knowledge);
            let near = did_you_mean(id, whole.spots.iter().map(|spot| spot.id.as_str()));
            let hint = near.map_or_else(
                || "name a cause, condition, damage, finding or reading with links".to_owned(),
                |near| format!("did you mean `{near}`?"),
            );
            Failure::Bad(format!("`{}` is not in the picture; {hint}", clean(id)))
        })?,
    };
    let text = match format {
        PictureFormat::Dot => dot(&sketch),
        PictureFormat::Svg => svg(&sketch),
    };
    print::out(text.trim_end());
    Ok(())
}

/// Prints tables of causes by symptom.
pub fn wall(arguments: &Arguments, finding: Option<&str>, as_html: bool, family: &str) -> Result<(), Failure> {
    let knowledge = bring::knowledge(arguments)?;
    bring::known_family(&knowledge, family)?;
    let findings = &knowledge.all.findings;
    if let Some(id) = finding.filter(|id| !findings.contains_key(*id)) {
        let near = did_you_mean(id, findings.keys().map(String::as_str));
        let hint = near.map_or_else(
            || "`weephole knowledge list findings` lists them".to_owned(),
            |near| format!("did you mean `{near}`?"),
        );
        return Err(Failure::Bad(format!("`{}` is not a finding; {hint}", clean(id))));
    }
    let wall = crate::picture::wall(&knowledge, family, finding);
    print::out(if as_html { wall.html() } else { wall.markdown() }.trim_end());
    Ok(())
}
