//! No command: a menu by situation.

mod items;

use super::arguments::WorkOrder;
use super::asking::{agreed, ask, ask_usual};
use super::installation::{InstallationOrder, installation};
use super::plan::{PlanCall, plan};
use super::practice::{PracticeOrder, practice};
use super::record_filter::RecordFilter;
use super::records::list_records;
use super::resume::resume;
use super::run::{RunOrder, run};
use super::unfinished::{UnfinishedRun, open_runs};
use super::{Done, Home, Library, Result, Stage};
use crate::console::{Block, ReplyKind};
use crate::disk::is_there;
use crate::record::{Outcome, Recorder, Summary};
use crate::words::list;
use items::{
    GOALS, MenuAction, MenuGroup, MenuItem, MenuMeaning, MenuShape, SEEN, TWO_COLUMNS_FROM, lay_out, meaning,
};

/// So many unfinished runs are shown with their place: on a narrow screen, on a wide one.
const SHOWN_WITH_PLACE: [usize; 2] = [1, 3];
/// The word that ends an unfinished run for good.
const DISCARD: &str = "discard";

/// Offers what can be done here and does it, until a run was performed or the person leaves.
///
/// # Errors
/// As the chosen command.
pub(crate) fn menu(home: &Home, stage: &mut Stage<'_>) -> Result<Done> {
    loop {
        let few = SHOWN_WITH_PLACE[usize::from(stage.width >= TWO_COLUMNS_FROM)];
        let mut menu = Menu::of(home, few)?;
        stage.show(Block::Heading, "tankhand")?;
        stage.show(Block::Lines, lay_out(&menu.groups(stage), stage.width))?;
        if let Some(done) = menu.chosen(home, stage)? {
            return Ok(done);
        }
    }
}

/// What the menu is made from.
struct Menu {
    unfinished: Vec<UnfinishedRun>,
    /// How many more wait.
    more: usize,
    library: Library,
    system: bool,
}

impl Menu {
    fn of(home: &Home, few: usize) -> Result<Menu> {
        let mut open = open_runs(home)?;
        let more = open.len().saturating_sub(few);
        open.truncate(few);
        let unfinished = open.into_iter().map(UnfinishedRun::of).collect();
        let system = home.system_file();
        Ok(Menu { unfinished, more, library: Library::beside(&system), system: is_there(&system) })
    }

    fn groups(&self, stage: &Stage<'_>) -> Vec<MenuGroup> {
        let now = stage.clock.now();
        let waiting = self.unfinished.iter().enumerate().map(|(at, run)| MenuItem {
            words: run.title(),
            also: String::new(),
            below: [run.place(now), run.stands.join(" · ")]
                .into_iter()
                .filter(|line| !line.is_empty())
                .collect(),
            action: MenuAction::GoOn(at),
        });
        let of = |table: &[(&str, &str, &str)]| -> Vec<MenuItem> {
            let begin = |name: &str| MenuAction::Begin(name.to_string());
            table
                .iter()
                .map(|(words, name, also)| MenuItem::new(words, &format!("{also} {name}"), begin(name)))
                .collect()
        };
        let known = |name: &String| SEEN.iter().chain(GOALS).any(|row| row.1 == name);
        let own = self.library.procedures().into_iter().filter(|name| !known(name));
        let own =
            own.map(|name| MenuItem::new(&format!("your own: {name}"), "", MenuAction::Begin(name.clone())));
        let set_up = if self.system { "installation" } else { "set-up" };
        vec![
            MenuGroup {
                heading: "Not finished (`discard 1` ends it for good)",
                items: waiting.collect(),
                shape: MenuShape::Lines,
            },
            MenuGroup { heading: "What do you see?", items: of(SEEN), shape: MenuShape::Columns },
            MenuGroup { heading: "What do you want to do?", items: of(GOALS), shape: MenuShape::Columns },
            MenuGroup { heading: "", items: own.collect(), shape: MenuShape::Columns },
            MenuGroup {
                heading: "",
                items: vec![
                    MenuItem::new("records", "report tag", MenuAction::Records),
                    MenuItem::new("plan", "what would change larger", MenuAction::Plan),
                    MenuItem::new("practice", "try invented kitchen table", MenuAction::Practice),
                    MenuItem::new(set_up, "your system set up installation", MenuAction::Installation),
                    MenuItem::new("leave", "quit exit", MenuAction::Leave),
                ],
                shape: MenuShape::OneLine,
            },
        ]
    }

    /// Asks until one item is meant, and carries it out; how the program then ends, `None` for the menu again.
    fn chosen(&mut self, home: &Home, stage: &mut Stage<'_>) -> Result<Option<Done>> {
        let groups = self.groups(stage);
        let items: Vec<&MenuItem> = groups.iter().flat_map(|group| &group.items).collect();
        if self.more > 0 {
            let text = format!("{} more not finished: tankhand records --outcome unfinished", self.more);
            stage.show(Block::Aside, text)?;
        }
        loop {
            let Some(typed) = ask(stage, "menu", ("number or words", ReplyKind::Line))? else {
                return Ok(Some(Done::Well));
            };
            if let Some(which) = typed.trim().strip_prefix(DISCARD) {
                let at = which.trim().parse::<usize>().ok().and_then(|number| number.checked_sub(1));
                if let Some(run) = at.and_then(|at| self.unfinished.get(at)) {
                    discard(run, stage)?;
                    return Ok(None);
                }
            }
            match meaning(&typed, &items) {
                MenuMeaning::Number(at) => return self.carry_out(&items[at].action, home, stage),
                MenuMeaning::Words(at) if self.is_agreed(items[at], stage)? => {
                    return self.carry_out(&items[at].action, home, stage);
                }
                MenuMeaning::Words(_) => {}
                MenuMeaning::Several(places) => {
                    let fits = list(places.iter().map(|at| (at + 1).to_string()), "and");
                    let text = format!("`{typed}` fits {fits}. Type one of these numbers.");
                    stage.show(Block::Refusal, text)?;
                }
                MenuMeaning::Nothing => {
                    let text = format!("Type a number from 1 to {}, or words of one line.", items.len());
                    stage.show(Block::Refusal, text)?;
                }
            }
        }
    }

    /// Whether what was found by its words is begun: nothing starts that a person did not see named.
    fn is_agreed(&self, item: &MenuItem, stage: &mut Stage<'_>) -> Result<bool> {
        let starts = match &item.action {
            MenuAction::Begin(name) => {
                let procedure = self.library.load(name)?;
                let time = procedure.time.map_or(String::new(), |time| format!(", about {time}"));
                format!("Starts: {} ({name}{time}).", procedure.title)
            }
            MenuAction::GoOn(_) => format!("Goes on with {}.", item.words),
            MenuAction::Records
            | MenuAction::Plan
            | MenuAction::Practice
            | MenuAction::Installation
            | MenuAction::Leave => return Ok(true),
        };
        stage.show(Block::Text, starts)?;
        agreed(stage, "start", "start")
    }

    fn carry_out(&self, action: &MenuAction, home: &Home, stage: &mut Stage<'_>) -> Result<Option<Done>> {
        let mut page = Vec::new();
        match action {
            MenuAction::GoOn(at) => {
                let id = self.unfinished.get(*at).map(|run| run.glance.id.clone());
                return resume(id.as_deref(), home, stage).map(Some);
            }
            MenuAction::Begin(name) => {
                let work = WorkOrder { procedure: name.clone(), ..WorkOrder::default() };
                return run(&RunOrder { work, ..RunOrder::default() }, home, stage).map(Some);
            }
            MenuAction::Records => list_records(&RecordFilter::default(), home, stage.width, &mut page)?,
            MenuAction::Plan => plan(&PlanCall::default(), home, stage.width, &mut page)?,
            MenuAction::Practice => {
                let names = self.library.procedures().into_iter().map(|name| (name.clone(), name));
                let asked = ("what is practiced", ReplyKind::OneOf(names.collect()));
                let Some(name) = ask_usual(stage, "practice", asked, Some("flush"))? else {
                    return Ok(None);
                };
                let order = PracticeOrder { procedure: name, ..PracticeOrder::default() };
                return practice(&order, home, stage).map(Some);
            }
            MenuAction::Installation => {
                let order = (!self.system).then_some(&InstallationOrder::Setup);
                return installation(order, None, home, stage).map(|_| None);
            }
            MenuAction::Leave => return Ok(Some(Done::Well)),
        };
        // What made a page is shown, and the menu stands again.
        let lines: Vec<String> = String::from_utf8_lossy(&page).lines().map(ToString::to_string).collect();
        stage.show(Block::Lines, lines)?;
        Ok(None)
    }
}

/// Ends an unfinished run for good, when the word for it is typed.
fn discard(run: &UnfinishedRun, stage: &mut Stage<'_>) -> Result<()> {
    let stands = run.stands.join(" · ");
    let left = if stands.is_empty() { String::new() } else { format!(" Left like this: {stands}.") };
    let text = format!("{} ends for good; its record is kept and says so.{left}", run.title());
    stage.show(Block::Text, text)?;
    let choices =
        [(DISCARD, "end it"), ("no", "keep it")].map(|(word, what)| (word.to_string(), what.to_string()));
    let answer = ask(stage, "discard", ("which", ReplyKind::OneOf(choices.into())))?;
    if answer.as_deref() != Some(DISCARD) {
        return Ok(());
    }
    let (mut recorder, ..) = Recorder::reopen(&run.glance.path)?;
    recorder.finish(&Summary {
        outcome: Outcome::Unfinished,
        at: stage.clock.now(),
        words: "Discarded before its end.".to_string(),
        grade: None,
        found: Vec::new(),
    })?;
    Ok(())
}
