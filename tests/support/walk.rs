//! A small invented procedure, walked through any face, for tests of the faces.

#![allow(dead_code)]

use std::time::Duration;

use tankhand::clock::Clock;
use tankhand::console::{Block, Command, Countdown, CountdownEnd, Ended, Face, Prompt, Reply, ReplyKind};
use tankhand::procedure::Signal;
use tankhand::quantity::Verdict;

/// The questions, in order.
fn prompts() -> Vec<Prompt> {
    let prompt = |step: &str, which: &str, label: &str, expects| Prompt {
        step: step.into(),
        which: which.into(),
        number: None,
        label: label.into(),
        expects,
        usual: None,
        otherwise: None,
        earlier: None,
        commands: vec![Command::Why, Command::Back, Command::Note, Command::Pause],
    };
    let water = [
        ("clear", "nothing settles in the jar"),
        ("cloudy", "a haze that stays for more than a minute"),
        ("dirty", "grit on the bottom"),
    ];
    let water = water.map(|(value, words)| (value.to_string(), words.to_string())).to_vec();
    let mut all = vec![
        prompt("breaker_off", "", "type understood", ReplyKind::Word("understood".into())),
        prompt("air_found", "1st of 2", "pressure, psi", ReplyKind::Line),
        prompt("air_found", "2nd of 2", "pressure, psi", ReplyKind::Line),
        prompt("jar", "", "water", ReplyKind::OneOf(water)),
        prompt("gauge_off", "", "Enter when done", ReplyKind::Enter),
    ];
    all[0].commands = vec![Command::Why, Command::Pause];
    all[2].commands.insert(3, Command::Skip);
    all
}

fn text(text: &str) -> Block {
    Block::Text(text.into())
}

fn introduce(at: usize) -> Vec<Block> {
    match at {
        0 => vec![
            Block::Heading("Step 1 of 5: Take the power away".into()),
            Block::Warning(
                Signal::Danger,
                "The switch terminals carry mains voltage until the breaker is off. If you are not sure which \
                 breaker it is, stop and call an electrician."
                    .into(),
            ),
        ],
        1 => vec![
            Block::Heading("Step 2 of 5: Read the air charge".into()),
            text("Press the gauge squarely onto the tank's air valve and read it at eye level."),
            Block::Aside("Right when the needle stands still.".into()),
        ],
        3 => vec![Block::Heading("Step 3 of 5: Look at the water".into()), text("Hold the jar against the light.")],
        4 => vec![
            Block::Heading("Step 5 of 5: Take the gauge off".into()),
            Block::Verdict(Verdict::Pass, "The charge sits 2 psi (±0.5 psi) below the cut-in.".into()),
            text("Take the gauge off and screw the cap on."),
        ],
        _ => Vec::new(),
    }
}

/// What is wrong with an answer.
fn objection(step: &str, answer: &str) -> Option<String> {
    match answer.trim_end_matches(" psi").parse::<f64>() {
        Ok(psi) if step == "air_found" && !(0.0..=100.0).contains(&psi) => {
            Some(format!("{answer} psi is outside 0 to 100 psi."))
        }
        Err(_) if step == "air_found" => Some(format!("`{answer}` does not begin with a number.")),
        _ => None,
    }
}

fn hold(face: &mut dyn Face, clock: &dyn Clock, whole: Duration) -> Result<String, Ended> {
    face.show(&Block::Heading("Step 4 of 5: Let it stand".into()))?;
    let countdown = Countdown { step: "hold".into(), whole, passed: Duration::ZERO, early: true };
    Ok(match face.count_down(&countdown, clock)? {
        CountdownEnd::Over(span) => format!("hold = {} s", span.as_secs()),
        CountdownEnd::Pause => "hold paused".to_string(),
    })
}

/// Walks through; what was answered, line by line.
pub fn walk(face: &mut dyn Face, clock: &dyn Clock, wait: Duration) -> Result<Vec<String>, Ended> {
    let mut log: Vec<String> = Vec::new();
    let mut prompts = prompts();
    let mut introduced = 0;
    let mut at = 0;
    while at < prompts.len() {
        if at == 4 && !log.iter().any(|line| line.starts_with("hold")) {
            log.push(hold(face, clock, wait)?);
        }
        if introduced <= at {
            introduce(at).iter().try_for_each(|block| face.show(block))?;
            introduced = at + 1;
        }
        let prompt = &mut prompts[at];
        match face.ask(prompt)? {
            Reply::Text(answer) => match objection(&prompt.step, &answer) {
                Some(why) => face.show(&Block::Refusal(why))?,
                None => {
                    log.push(format!("{} = {answer}", prompt.step));
                    prompt.earlier = Some(answer);
                    at += 1;
                }
            },
            Reply::Command(Command::Back, _) => at = at.saturating_sub(1),
            Reply::Command(Command::Why | Command::More | Command::List | Command::Amend, _) => {
                face.show(&text(
                    "With water in the tank the air valve shows the water's pressure, not the charge.",
                ))?;
            }
            Reply::Command(Command::Pause, _) => break,
            Reply::Command(Command::Skip, words) => {
                log.push(format!("{} skipped: {words}", prompt.step));
                at += 1;
            }
            Reply::Command(Command::Note, words) => log.push(format!("note: {words}")),
        }
    }
    face.show(&Block::Lines(log.clone()))?;
    Ok(log)
}
