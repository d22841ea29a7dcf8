//! A run as a question sees it.

use super::run::Run;
use crate::clock::Moment;
use crate::lang::{Value, Values};
use crate::procedure::{AtHand, GaugeAt};
use crate::quantity::Units;

/// What is at hand where a run stands.
pub(super) struct RunAtHand<'r>(pub &'r Run);

impl AtHand for RunAtHand<'_> {
    fn values(&self) -> &dyn Values {
        &self.0.state.names
    }

    fn units(&self) -> Units {
        self.0.setting.units
    }

    fn gauge(&self, name: &str, si: f64) -> Option<GaugeAt> {
        let gauge = self.0.gauge(name)?;
        let uncertainty = gauge.accuracy_u(si).hypot(gauge.resolution_u());
        Some(GaugeAt { called: gauge.called().to_string(), span: gauge.span, uncertainty })
    }

    fn recalled(&self, observable: &str) -> Option<String> {
        let tank = self.0.setting.tank_id(self.0.tank());
        self.0.setting.past.get(tank.as_deref(), observable).map(ToString::to_string)
    }

    fn takes(&self) -> &[Value] {
        &self.0.state.takes
    }

    fn wait_begun(&self) -> Option<Moment> {
        self.0.state.wait_begun
    }
}
