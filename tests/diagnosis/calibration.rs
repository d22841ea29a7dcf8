//! How often the diagnosis is right: simulated owners, from one seed.

use tankhand::physics::diagnosis::{CAUSES, CauseId, Claims, Diagnosis, Group, Working, diagnose};

use crate::model::{Case, DEFAULT, Draw, GOOD, Gauges, SOUND, Truth, VISITS, Visit, but};

pub struct Outcome {
    pub truth: Truth,
    pub said: Diagnosis,
    pub claims: Claims,
}

pub fn claims(visit: &Visit) -> Claims {
    Claims::by(visit.items)
}

pub fn play(
    visit: &Visit,
    gauges: Gauges,
    truths: &mut dyn Iterator<Item = Truth>,
    (seed, mistakes): (u64, f64),
) -> Vec<Outcome> {
    let mut draw = Draw::new(seed);
    let claims = claims(visit);
    truths
        .map(|truth| {
            let all = Case { draw: &mut draw, gauges, truth, mistakes, gap: None }.read();
            Outcome { truth, said: diagnose(&visit.of(&all), &claims), claims }
        })
        .collect()
}

#[derive(Default, Debug)]
pub struct Score {
    pub healthy: usize,
    pub good: usize,
    pub faults: usize,
    pub dangerous: usize,
    pub sure: usize,
    pub wrong: usize,
    pub runs: usize,
    pub first: usize,
    pub named: usize,
    pub single: usize,
    pub odd: usize,
    pub which: std::collections::BTreeMap<String, usize>,
    pub wrongs: std::collections::BTreeMap<String, usize>,
}

pub fn score(outcomes: &[Outcome]) -> Score {
    let mut s = Score::default();
    for o in outcomes {
        s.runs += 1;
        let faults: Vec<CauseId> = o
            .truth
            .iter()
            .copied()
            .filter(|c| o.claims.has(*c) && c.cause().weight > tankhand::physics::diagnosis::Weight::Note)
            .collect();
        if faults.is_empty() {
            s.healthy += 1;
            if o.said.is_good {
                s.good += 1;
            }
        } else {
            s.faults += 1;
            if o.said.is_good {
                s.dangerous += 1;
                *s.which
                    .entry(faults.iter().map(|c| c.cause().name).collect::<Vec<_>>().join("+"))
                    .or_insert(0) += 1;
            }
        }
        if o.said.odd.is_some() {
            s.odd += 1
        }
        for f in &o.said.found {
            s.sure += 1;
            if !o.truth.contains(&f.cause) && !f.or.iter().any(|(c, _)| o.truth.contains(c)) {
                s.wrong += 1;
                *s.wrongs.entry(format!("{:?} for {:?}", f.cause, faults)).or_insert(0) += 1;
            }
        }
        for f in &faults {
            s.single += 1;
            let g = f.cause().group;
            let best = g
                .causes()
                .iter()
                .filter(|c| o.claims.has(c.id) || c.id.is_healthy())
                .max_by(|a, b| {
                    o.said.probabilities[a.id as usize].total_cmp(&o.said.probabilities[b.id as usize])
                })
                .unwrap();
            if best.id == *f {
                s.first += 1
            }
            if o.said.found.iter().any(|x| x.cause == *f || x.or.iter().any(|(c, _)| c == f))
                || o.said.likeliest.iter().any(|(c, _)| c == f)
            {
                s.named += 1
            }
        }
    }
    s
}

#[test]
fn explore_test() {
    explore()
}
pub fn explore() {
    let n: usize = std::env::var("N").map_or(20, |n| n.parse().unwrap());
    for (gauges, name) in [(DEFAULT, "default"), (GOOD, "good")] {
        for visit in &VISITS {
            let balanced = CAUSES.iter().flat_map(|c| std::iter::repeat_n(but(&[c.id]), n));
            let b = score(&play(visit, gauges, &mut balanced.into_iter(), (11, 1.0)));
            let clean = CAUSES.iter().flat_map(|c| std::iter::repeat_n(but(&[c.id]), n));
            let c = score(&play(visit, gauges, &mut clean.into_iter(), (12, 0.0)));
            let mut draw = Draw::new(5);
            let priors: Vec<Truth> = (0..n * 30).map(|_| draw.truth()).collect();
            let p = score(&play(visit, gauges, &mut priors.into_iter(), (13, 1.0)));
            println!("   dangerous {:?} clean {:?}\n   wrong {:?}", b.which, c.which, b.wrongs);
            let r = |a: usize, b: usize| 100.0 * a as f64 / b.max(1) as f64;
            println!(
                "{name} {}: good {:.0}%  dangerous {:.1}% (clean {:.1}%, priors {:.1}%)  wrong of sure {:.1}% (priors {:.1}%)  wrong/run {:.1}  first {:.0}% named {:.0}% odd {:.1} (clean {:.1})",
                visit.name,
                r(p.good, p.healthy),
                r(b.dangerous, b.faults),
                r(c.dangerous, c.faults),
                r(p.dangerous, p.faults),
                r(b.wrong, b.sure),
                r(p.wrong, p.sure),
                r(b.wrong, b.runs),
                r(b.first, b.single),
                r(b.named, b.single),
                r(b.odd, b.runs),
                r(c.odd, c.runs)
            );
        }
    }
    for visit in &VISITS {
        for gap in [2.0, 5.0, 8.0, 10.0, 15.0, -3.0] {
            let mut draw = Draw::new(51);
            let claims = claims(visit);
            let mut c = [0; 4];
            for _ in 0..n * 5 {
                let all =
                    Case { draw: &mut draw, gauges: DEFAULT, truth: SOUND, mistakes: 0.0, gap: Some(gap) }
                        .read();
                c[diagnose(&visit.of(&all), &claims).working as usize] += 1;
            }
            println!("{} gap {gap}: accept/look/set/act {:?} of {}", visit.name, c, n * 5);
        }
    }
    let t = std::time::Instant::now();
    let mut draw = Draw::new(1);
    let all = Case { draw: &mut draw, gauges: DEFAULT, truth: SOUND, mistakes: 0.0, gap: None }.read();
    for _ in 0..200 {
        std::hint::black_box(diagnose(&all, &claims(&VISITS[0])));
    }
    println!("ms {}", t.elapsed().as_secs_f64() * 5.0);
    let _ = (SOUND, Working::Accept, Group::Tank);
}
