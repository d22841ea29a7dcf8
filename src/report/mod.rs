//! stub
use crate::procedure::Procedure;
use crate::record::*;
use crate::source::Fault;
#[allow(missing_docs)]
pub struct Page(Vec<String>);
#[allow(missing_docs)]
pub fn to_text(p: &Page, _: usize) -> Vec<String> {
    p.0.clone()
}
#[allow(missing_docs)]
pub fn faults_text(f: &[Fault], _: usize, _: bool) -> String {
    f.iter().map(|f| f.heading() + "\n").collect()
}
#[allow(missing_docs)]
pub fn summary_page(_: &Contents, _: Option<&Procedure>) -> Page {
    Page(vec!["SUMMARY".into()])
}
#[allow(missing_docs)]
pub fn record_page(c: &Contents, _: Option<&Procedure>) -> Page {
    Page(c.entries.iter().map(|e| format!("{e:?}")).collect())
}
#[allow(missing_docs)]
pub fn records_page(_: &[Result<Glance, RecordFault>]) -> Page {
    Page(vec![])
}
#[allow(missing_docs)]
pub fn procedure_page(_: &str, _: &Procedure) -> Page {
    Page(vec![])
}
