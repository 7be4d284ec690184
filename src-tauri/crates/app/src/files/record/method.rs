//! How it was measured and judged: without this nobody need believe the rest.

use super::findable::Findable;
use crate::forms::*;
use judge::room::rules::Figures;
use judge::words::moment;
use report::model::Method;

pub(super) fn method(findable: &Findable<'_>) -> Vec<Method> {
    let line = |name: &str, text: String| Method { name: name.to_string(), text };
    let (method, say) = (&findable.findings.method, findable.say);
    let decision = Figures::of(&findable.file.rules).decision();
    let mut all = vec![
        line("straightedge", straightedge()),
        line("reading", format!("One reading is good for ±{} at k = 2.", say.length(2.0 * method.sd_mm))),
        line("verdict", verdict(decision)),
    ];
    all.extend(
        findable
            .file
            .setups
            .iter()
            .filter(|setup| !setup.withdrawn)
            .map(|setup| line("set-up", setup_line(findable, setup))),
    );
    all
}

fn straightedge() -> String {
    "A rigid bar resting on two supports on the floor as read, straight between readings; the gap is taken between the supports."
        .to_string()
}

fn verdict(decision: Decision) -> String {
    match decision {
        Decision::Guarded => "Guarded: within or out is said only where the uncertainty leaves less than one chance in twenty of being wrong; \
             the rest is too close to call."
            .to_string(),
        Decision::Simple => "Simple acceptance: the measured value is held against the limit and the risk is shared.".to_string(),
    }
}

fn setup_line(findable: &Findable<'_>, setup: &Setup) -> String {
    let closing = match &setup.closing {
        Some(closing) => {
            let error = findable.say.length((closing.mm - setup.opening.mm).abs());
            format!("closed on {}, {error} apart", closing.text)
        }
        None => "not closed".to_string(),
    };
    let Setup { instrument, benchmark, opening, .. } = setup;
    format!("{instrument}; {} read {} at the start, {closing}; {}.", benchmark.name, opening.text, moment(&opening.at))
}
