//! Everything that comes with the program loads.

use tankhand::app::Library;
use tankhand::procedure::shipped;
use tankhand::report::faults_text;

#[test]
fn every_shipped_procedure_loads() {
    let library = Library::default();
    let names = library.procedures();
    assert!(names.len() >= 2);
    for name in names {
        match library.load(&name) {
            Ok(procedure) => {
                assert!(procedure.steps.len() > 5, "{name} has hardly any steps");
                assert_eq!(shipped(&name).unwrap().title(), procedure.title, "{name}");
            }
            Err(tankhand::app::Failure::Faults(faults)) => panic!("{}", faults_text(&faults, 100, false)),
            Err(failure) => panic!("{name}: {failure}"),
        }
    }
}

#[test]
fn a_tank_is_chosen_only_where_one_of_several_is_worked_on() {
    let library = Library::default();
    let for_one = |name: &str| library.load(name).is_ok_and(|procedure| procedure.is_for_one_tank());
    for name in ["flush", "new-tank", "commission"] {
        assert!(for_one(name), "{name}");
    }
    // These go through all tanks, or through none of the system file's.
    for name in ["yearly", "add-tank", "used-tank"] {
        assert!(!for_one(name), "{name}");
    }
}
