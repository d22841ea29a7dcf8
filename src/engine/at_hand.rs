//! A run as a question sees it.

use super::run::Run;
use crate::clock::Moment;
use crate::lang::{Value, Values};
use crate::procedure::{AtHand, GaugeAt};
use crate::quantity::Units;

impl AtHand for Run {
    fn values(&self) -> &dyn Values {
        &self.state.names
    }

    fn units(&self) -> Units {
        self.setting.units
    }

    fn gauge(&self, name: &str, si: f64) -> Option<GaugeAt> {
        let gauge = self.gauge(name)?;
        let uncertainty = gauge.accuracy_u(si).hypot(gauge.resolution_u());
        Some(GaugeAt { called: gauge.called().to_string(), span: gauge.span, uncertainty })
    }

    fn recalled(&self, observable: &str) -> Option<String> {
        let tank = self.setting.tank_id(self.tank());
        self.setting.past.get(tank.as_deref(), observable).map(ToString::to_string)
    }

    fn takes(&self) -> &[Value] {
        &self.state.takes
    }

    fn wait_begun(&self) -> Option<Moment> {
        self.state.wait_begun
    }
}
