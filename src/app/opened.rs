//! A record opened to be shown or reported, with what it was made with.

use super::anonymous::without_identity;
use super::kept_setting::setting;
use super::resume::find_record;
use super::{Done, Home, Result};
use crate::engine::{Run, Setting};
use crate::lang::{Unknown, Value, Values};
use crate::record::{Contents, Trouble, file_bytes, last_seal, salvage, verify_bytes};
use crate::report::{RecordSeals, RunView};

/// What a record holds, and how its seals were found.
pub(super) struct OpenedRecord {
    pub contents: Contents,
    /// A record stays readable when this program no longer takes its procedure.
    setting: Option<Setting>,
    pub seals: RecordSeals,
    /// What is shown in its place: the same without what tells whose it is.
    shown: Option<Contents>,
}

impl OpenedRecord {
    /// Opens the record of that id; of a broken one all that is whole.
    pub(super) fn of(id: &str, home: &Home) -> Result<OpenedRecord> {
        let path = find_record(id, home)?;
        OpenedRecord::from_bytes(file_bytes(&path)?).map_err(|trouble| trouble.at(&path).into())
    }

    /// The same of a record's bytes.
    pub(super) fn from_bytes(bytes: Vec<u8>) -> Result<OpenedRecord, Trouble> {
        let (contents, broken) = match Contents::from_bytes(&bytes) {
            Ok(contents) => (contents, None),
            Err(trouble @ Trouble::Edited(_)) => (salvage(&bytes, "record")?.contents, Some(trouble.what())),
            Err(trouble) => return Err(trouble),
        };
        let found = verify_bytes(&bytes).iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
        let setting = setting(&contents).ok();
        let seals = RecordSeals { found, last: last_seal(&bytes), broken, bytes };
        Ok(OpenedRecord { contents, setting, seals, shown: None })
    }

    /// The same without what tells whose it is; the record itself goes with no page of it.
    pub(super) fn without_identity(self) -> OpenedRecord {
        let shown = without_identity(&self.contents);
        let setting =
            self.setting.map(|setting| Setting { system: setting.system.without_names().into(), ..setting });
        let seals = RecordSeals { last: None, bytes: Vec::new(), ..self.seals };
        OpenedRecord { shown: Some(shown), seals, setting, ..self }
    }

    /// What is shown of the record.
    pub(super) fn shown(&self) -> &Contents {
        self.shown.as_ref().unwrap_or(&self.contents)
    }

    /// What a file of its own is called.
    pub(super) fn file_stem(&self) -> &str {
        if self.shown.is_some() { "without-identity" } else { &self.contents.header.id }
    }

    pub(super) fn view(&self) -> RunView<'_> {
        RunView::new(self.shown(), self.setting.as_ref().map(|setting| setting.procedure.as_ref()))
    }

    /// Makes something of the record, with the installation and the values the run ended with.
    pub(super) fn with<T>(&self, make: impl FnOnce(&RunView<'_>) -> T) -> T {
        let last = self.contents.summary.as_ref().map_or(self.contents.header.started, |end| end.at);
        let replay = |setting| Run::replay(setting, &self.contents.entries, last).ok();
        let values = self.setting.clone().and_then(replay).map(|(run, _)| RunValues(run));
        let stands = values.iter().flat_map(|values| values.0.stands()).map(ToString::to_string).collect();
        let system = self.setting.as_ref().map(|setting| setting.system.as_ref());
        let values = values.as_ref().map(|values| values as &dyn Values);
        make(&self.view().on(system, values).standing(stands))
    }

    /// Whether every seal holds, to the last byte.
    pub(super) fn is_sound(&self) -> bool {
        self.seals.broken.is_none() && self.contents.torn.is_none()
    }

    pub(super) fn done(&self) -> Done {
        if self.seals.broken.is_some() { Done::Short } else { Done::Well }
    }
}

/// The values a run stands at.
struct RunValues(Run);

impl Values for RunValues {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        self.0.value(name).ok_or_else(|| Unknown::because(format!("`{name}` is not known.")))
    }
}
