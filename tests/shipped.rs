//! Everything that comes with the program loads.

use tankhand::app::Library;
use tankhand::report::faults_text;

#[test]
fn every_shipped_procedure_loads() {
    let library = Library::default();
    let names = library.procedures();
    assert!(names.len() >= 2);
    for name in names {
        match library.load(&name) {
            Ok(procedure) => assert!(procedure.steps.len() > 20, "{name} has hardly any steps"),
            Err(tankhand::app::Failure::Faults(faults)) => panic!("{}", faults_text(&faults, 100, false)),
            Err(failure) => panic!("{name}: {failure}"),
        }
    }
}
