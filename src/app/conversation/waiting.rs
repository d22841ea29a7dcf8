//! Waits: begun, counted down, over; by which clock; and when the reading after one was taken.

use std::time::Duration;

use super::{Conversation, Interruption, Next};
use crate::clock::Moment;
use crate::console::{Block, Countdown, CountdownEnd, Prompt, Reply, ReplyKind};
use crate::engine::{Ask, Event, RunInput};
use crate::quantity::{Family, Measure, Uncertain, Units, read_number, show_briefly, unit};
use crate::record::EntryKind;

/// The machine's two clocks may drift so far apart without anyone having set one.
const DRIFT: Duration = Duration::from_secs(90);
/// So long after its end a wait that goes by the clock on the wall alone may be that of a clock that was set.
const CLOCK_SET_FROM: Duration = Duration::from_secs(6 * 3600);
/// A reading so long after its wait is told of.
const LATE: Duration = Duration::from_secs(60);

impl Conversation<'_, '_> {
    pub(super) fn begin_wait(&mut self) -> Result<(), Interruption> {
        self.run.tell_machine_time(self.stage.clock.boot_time());
        let now = self.stage.clock.now();
        self.take(RunInput::WaitBegins, now)
    }

    pub(super) fn wait(
        &mut self,
        ask: &Ask,
        whole: Duration,
        begun: Moment,
        early: bool,
    ) -> Result<Option<Next>, Interruption> {
        let passed = self.passed(ask, begun, whole)?;
        let countdown = Countdown { step: ask.place.step.to_string(), whole, passed, early };
        match self.stage.face.count_down(&countdown, self.stage.clock)? {
            CountdownEnd::Over(length) => {
                let now = self.stage.clock.now();
                self.take(RunInput::WaitOver(length), now)?;
                self.ready = Some(now);
                Ok(Some(Next::GoOn))
            }
            CountdownEnd::Pause => Ok(Some(Next::Leave("Left during the wait, which goes on by the clock."))),
        }
    }

    /// How much of a wait has passed: by the clock that counts from the machine's start, which nobody sets;
    /// else by the clock on the wall; where that went back, or so far on that it may have been set, the
    /// person is asked.
    fn passed(&mut self, ask: &Ask, begun: Moment, whole: Duration) -> Result<Duration, Interruption> {
        let now = self.stage.clock.now();
        let by_wall = now.since(begun);
        self.tell_other_zone(begun, now)?;
        let machine = self.stage.clock.boot_time().zip(self.run.wait_began_at());
        let Some(by_machine) = machine.and_then(|(now, begun)| now.since(begun)) else {
            if now < begun {
                return self.ask_passed(ask, "This machine's clock shows a time before the wait began.");
            }
            if by_wall > whole + CLOCK_SET_FROM {
                let says = format!("By this machine's clock the wait began {} ago.", in_words(by_wall));
                return self.ask_passed(ask, &says);
            }
            return Ok(by_wall);
        };
        if by_wall.abs_diff(by_machine) > DRIFT {
            let message = format!(
                "This machine's clock was set during the wait. It has run for {} since the wait began; that counts.",
                in_words(by_machine)
            );
            self.stage.show(Block::Aside, message)?;
        }
        Ok(by_machine)
    }

    /// Says that the clock on the wall has another time zone now, or was changed for the summer: the wait
    /// goes by what has passed, but times are shown otherwise.
    fn tell_other_zone(&mut self, begun: Moment, now: Moment) -> Result<(), Interruption> {
        let by = now.offset_minutes() - begun.offset_minutes();
        if by == 0 {
            return Ok(());
        }
        let minutes = Duration::from_secs(60 * u64::from(by.unsigned_abs()));
        let way = if by > 0 { "forward" } else { "back" };
        let message = format!(
            "The clock on the wall went {way} by {} since the wait began: another time zone, or summer time. The wait \
             goes by what has passed.",
            in_words(minutes)
        );
        self.stage.show(Block::Aside, message)?;
        Ok(())
    }

    fn ask_passed(&mut self, ask: &Ask, says: &str) -> Result<Duration, Interruption> {
        self.stage.show(Block::Text, format!("{says} How long ago did it begin?"))?;
        let prompt = Prompt {
            which: "passed".to_string(),
            ..Prompt::new(&ask.place.step, "how long ago, min", ReplyKind::Line)
        };
        loop {
            let Reply::Text(typed) = self.stage.face.ask(&prompt)? else { continue };
            let read = read_number(&typed, Family::Time).map_err(|error| error.to_string());
            let passed = read.and_then(|typed| {
                let size = typed.unit.or(unit("min")).map_or(60.0, |unit| unit.size);
                Duration::try_from_secs_f64(typed.number * size)
                    .map_err(|_| "No time is less than none.".to_string())
            });
            match passed {
                Ok(passed) => return Ok(passed),
                Err(why) => self.stage.show(Block::Refusal, why)?,
            }
        }
    }

    /// What is told of a reading that was taken long after its wait was over.
    pub(super) fn read_after_wait(&mut self, events: &[Event]) -> Option<String> {
        let ready = self.ready.take()?;
        let reading =
            events.first().map(|event| &event.entry).filter(|entry| entry.kind == EntryKind::Reading)?;
        let late = reading.at.since(ready);
        (late >= LATE).then(|| {
            let time = reading.at.time_of_day();
            format!("Read at {time}, {} after the wait was over: that time counts too.", in_words(late))
        })
    }
}

/// A time in words.
pub(in crate::app) fn in_words(span: Duration) -> String {
    show_briefly(Measure::Duration, &Uncertain::exact(span.as_secs_f64()), Units::default())
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;
    use std::io;

    use super::*;
    use crate::app::conversation::{Occasion, Stage};
    use crate::app::{Home, RunOrder, WorkOrder, resume, run};
    use crate::clock::{BootTime, Clock};
    use crate::console::{Ended, Face};

    const HOLD: &str = "format = 1
title = \"Hold\"
purpose = \"Hold.\"

[[step]]
id = \"hold\"
wait = \"15 min\"

[[step]]
id = \"end\"
read = \"pressure\"
ask = \"What does the gauge show?\"
";

    /// A machine whose clock can be set, and that can be started anew.
    struct Machine {
        wall: Cell<Moment>,
        boot: Cell<u32>,
        running: Cell<Duration>,
    }

    impl Clock for Machine {
        fn now(&self) -> Moment {
            self.wall.get()
        }
        fn running(&self) -> Duration {
            self.running.get()
        }
        fn boot_time(&self) -> Option<BootTime> {
            Some(BootTime { boot: self.boot.get().to_string(), seconds: self.running.get().as_secs_f64() })
        }
        fn pass(&self, span: Duration) {
            self.wall.set(self.wall.get().plus(span));
            self.running.set(self.running.get() + span);
        }
    }

    /// Leaves the first wait at once, and keeps what it was told and from where it should have counted on.
    #[derive(Default)]
    struct Leaver {
        messages: Vec<String>,
        passed: Vec<u64>,
    }

    impl Face for Leaver {
        fn show(&mut self, block: &Block) -> io::Result<()> {
            if let Block::Aside(text) | Block::Text(text) | Block::Warning(_, text) = block {
                self.messages.push(text.clone());
            }
            Ok(())
        }
        fn ask(&mut self, prompt: &Prompt) -> Result<Reply, Ended> {
            match prompt.which.as_str() {
                "passed" => Ok(Reply::Text("7".to_string())),
                _ => Err(Ended::NoMoreInput),
            }
        }
        fn count_down(&mut self, countdown: &Countdown, _: &dyn Clock) -> Result<CountdownEnd, Ended> {
            self.passed.push(countdown.passed.as_secs());
            Ok(CountdownEnd::Pause)
        }
    }

    /// Left for five minutes, in which something happens to the machine: how long that was, and what is told.
    fn after(happens: impl Fn(&Machine)) -> (Vec<u64>, Vec<String>) {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("hold.toml");
        std::fs::write(&file, HOLD).unwrap();
        let home = Home::find(Some(folder.path())).unwrap();
        let start = Moment::parse("2031-04-05T09:00:00-05:00").unwrap();
        let machine =
            Machine { wall: Cell::new(start), boot: Cell::new(1), running: Cell::new(Duration::ZERO) };
        let mut face = Leaver::default();
        let mut stage = Stage { face: &mut face, clock: &machine, width: 80, occasion: Occasion::Work };
        let work = WorkOrder { procedure: file.to_str().unwrap().to_string(), ..WorkOrder::default() };
        let order = RunOrder { work, ..RunOrder::default() };
        run(&order, &home, &mut stage).unwrap();
        machine.pass(Duration::from_secs(300));
        happens(&machine);
        stage.face.show(&Block::Text("=".to_string())).unwrap();
        resume(None, &home, &mut stage).unwrap();
        let messages = face.messages.into_iter().skip_while(|text| text != "=").skip(1);
        (face.passed, messages.filter(|text| text.contains("clock ")).collect())
    }

    #[test]
    fn a_wait_goes_by_the_clock_that_nobody_sets() {
        let hour = Duration::from_secs(3600);
        assert_eq!(after(|_| {}), (vec![0, 300], Vec::new()));
        let set = "This machine's clock was set during the wait. It has run for 5 min since the wait began; that counts.";
        let (passed, messages) = after(|machine| machine.wall.set(machine.wall.get().plus(hour)));
        assert_eq!((passed, messages), (vec![0, 300], vec![set.to_string()]));
        let (passed, messages) = after(|machine| {
            machine.boot.set(2);
            machine.running.set(Duration::from_secs(20));
        });
        assert_eq!((passed, messages), (vec![0, 300], Vec::new()));
        // After another start the clock on the wall is all there is: so much later it may have been set.
        let (passed, messages) = after(|machine| {
            machine.boot.set(2);
            machine.wall.set(machine.wall.get().plus(20 * hour));
        });
        assert_eq!(passed, [0, 420]);
        assert_eq!(
            messages,
            ["By this machine's clock the wait began 20.1 h ago. How long ago did it begin?"]
        );
        let (passed, messages) = after(|machine| {
            machine.boot.set(2);
            machine.wall.set(machine.wall.get().minus(hour));
        });
        assert_eq!(passed, [0, 420]);
        assert_eq!(
            messages,
            [
                "This machine's clock shows an earlier time than the last answer has, 2031-04-05 09:00: set it right \
                 before you go on.",
                "This machine's clock shows a time before the wait began. How long ago did it begin?"
            ]
        );
    }

    /// The night on which summer time begins, another time zone, a machine without a boot clock: what has
    /// passed is the same, and the change is told.
    #[test]
    fn another_time_zone_changes_no_wait() {
        let question = |way: &str| {
            format!(
                "The clock on the wall went {way} by 60 min since the wait began: another time zone, or summer time. \
                 The wait goes by what has passed."
            )
        };
        for (wall, way) in [("2031-04-05T10:05:00-04:00", "forward"), ("2031-04-05T08:05:00-06:00", "back")] {
            let set = |machine: &Machine| machine.wall.set(Moment::parse(wall).unwrap());
            assert_eq!(after(set), (vec![0, 300], vec![question(way)]));
            let anew = |machine: &Machine| {
                set(machine);
                machine.boot.set(2);
            };
            assert_eq!(after(anew), (vec![0, 300], vec![question(way)]));
        }
    }
}
