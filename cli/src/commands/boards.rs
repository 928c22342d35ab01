//! `boards`: from a list of what lies in stock, which boards it gives.

use crate::args::Boards;
use crate::failure::Failure;
use crate::{Status, plan, terminal};
use quarterturn_geometry::measure::{Length, Rest, Rounding, Rule, Unit};
use quarterturn_geometry::search::{BoardMade, BoardsWanted, Divided, InStock, MOST_STOCK, Proposal, divided};
use quarterturn_geometry::wood::{Lab, Wood};
use serde::Deserialize;
use std::path::Path;
use std::time::{Duration, Instant};
use toml::Spanned;

/// A length, quoted or a bare number, and where it stands.
type Written = Spanned<toml::Value>;

/// A stock list as it is written; every length as [`Length::parse`] reads it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct List {
    #[serde(default)]
    units: Units,
    finest: Option<Written>,
    boards: Wanted,
    shop: Shop,
    blanks: Vec<Blank>,
}

#[derive(Clone, Copy, Default, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "lowercase")]
enum Units {
    Inch,
    #[default]
    Millimetre,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Wanted {
    width: [Written; 2],
    length: [Written; 2],
    thickness: Written,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Shop {
    kerf: Written,
    ends: Option<Written>,
    trued: Option<Written>,
    planed: Option<Written>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Blank {
    letter: String,
    wood: Spanned<String>,
    width: Written,
    thickness: Written,
    length: Written,
    #[serde(default = "one")]
    count: usize,
}

const fn one() -> usize {
    1
}

/// A list that was read.
struct Read {
    letters: Vec<String>,
    stock: Vec<InStock>,
    wanted: BoardsWanted,
    rule: Rule,
}

pub(super) fn run(args: &Boards) -> Result<Status, Failure> {
    let text = super::read_text(&args.stock)?;
    let list = read(&text, args.show).map_err(|why| Failure::Misuse(format!("{}: {why}", args.stock.display())))?;
    let until = Instant::now() + Duration::from_secs_f64(args.seconds);
    let found = divided(&list.stock, &list.wanted, &mut || Instant::now() < until);
    let found = found.map_err(|why| Failure::Misuse(format!("{}: {why}", args.stock.display())))?;
    let can = found.proposals.first().is_some_and(|p| !p.boards.is_empty());
    terminal::headed(&said(&args.stock, &list, &found));
    Ok(if can { Status::Made } else { Status::CantBeMade })
}

fn read(text: &str, few: usize) -> Result<Read, String> {
    let list: List = toml::from_str(text).map_err(|e| e.to_string())?;
    let within = Reading { text, unit: if list.units == Units::Inch { Unit::Inch } else { Unit::Millimetre } };
    let mm = |what: &str, written: &Written| within.length(what, written).map(Length::mm);
    let or_nothing = |what: &str, written: &Option<Written>| written.as_ref().map_or(Ok(0.0), |w| mm(what, w));
    let both = |what: &str, [a, b]: &[Written; 2]| Ok::<_, String>([mm(what, a)?, mm(what, b)?]);
    let (mut letters, mut stock) = (Vec::new(), Vec::new());
    for blank in &list.blanks {
        let one = InStock {
            width: mm("width", &blank.width)?,
            thickness: mm("thickness", &blank.thickness)?,
            length: mm("length", &blank.length)?,
            lightness: Lab::of(within.wood(&blank.wood)?.heartwood).l,
        };
        for which in 0..blank.count.min(MOST_STOCK + 1) {
            letters.push(if which == 0 { blank.letter.clone() } else { format!("{}{}", blank.letter, which + 1) });
            stock.push(one);
        }
        if stock.len() > MOST_STOCK {
            return Err(format!("there are more than {MOST_STOCK} blanks; share them out in parts"));
        }
    }
    let (asked, shop) = (&list.boards, &list.shop);
    let wanted = BoardsWanted {
        width: both("width", &asked.width)?,
        length: both("length", &asked.length)?,
        strip: mm("thickness", &asked.thickness)?,
        kerf: mm("kerf", &shop.kerf)?,
        ends: or_nothing("ends", &shop.ends)?,
        trued: or_nothing("trued", &shop.trued)?,
        planed: or_nothing("planed", &shop.planed)?,
        few,
    };
    Ok(Read { letters, stock, wanted, rule: within.rule(list.finest.as_ref())? })
}

/// The text that is read, for the places in messages, and what its lengths are in.
struct Reading<'a> {
    text: &'a str,
    unit: Unit,
}

impl Reading<'_> {
    /// What is wrong, with its line.
    fn wrong<T>(&self, at: &Spanned<T>, what: &str) -> String {
        let before = self.text.get(..at.span().start).unwrap_or(self.text);
        format!("line {}: {what}", before.matches('\n').count() + 1)
    }

    fn length(&self, key: &str, written: &Written) -> Result<Length, String> {
        let text = match written.get_ref() {
            toml::Value::String(text) => text.clone(),
            other => other.to_string(),
        };
        Length::parse(&text, self.unit).map_err(|e| self.wrong(written, &format!("{key} = {text}: {e}")))
    }

    fn wood(&self, name: &Spanned<String>) -> Result<Wood, String> {
        let known: Vec<&str> = Wood::names().collect();
        Wood::named(name.get_ref()).ok_or_else(|| {
            let likely = match plan::likely(name.get_ref(), &known) {
                likely if likely.is_empty() => known.join(", "),
                likely => likely.join(", "),
            };
            self.wrong(name, &format!("{} is no wood that is known; known: {likely}", name.get_ref()))
        })
    }

    fn rule(&self, finest: Option<&Written>) -> Result<Rule, String> {
        let usual =
            if self.unit == Unit::Inch { Length::from_inch_fraction(1, 16) } else { Length::from_micrometres(500) };
        let mark = finest.map_or(Ok(usual), |finest| self.length("finest", finest))?;
        plan::rule_with(mark, self.unit == Unit::Millimetre)
            .map_err(|e| finest.map_or_else(String::new, |finest| self.wrong(finest, &format!("finest: {e}"))))
    }
}

fn said(path: &Path, list: &Read, found: &Divided) -> Vec<(String, String)> {
    let mut lines = vec![(String::new(), format!("{}: {} blanks", path.display(), list.stock.len()))];
    for (i, proposal) in found.proposals.iter().enumerate() {
        lines.push((format!("  {:>4} ", i + 1), head(proposal, list)));
        lines.extend(proposal.boards.iter().map(|made| ("         ".to_owned(), board(made, list))));
        if !proposal.left.is_empty() {
            lines.push(("         ".to_owned(), format!("left over: {}", named(&proposal.left, list))));
        }
    }
    lines.push((" ".to_owned(), proof(found)));
    lines
}

fn named(blanks: &[usize], list: &Read) -> String {
    blanks.iter().map(|i| list.letters[*i].as_str()).collect::<Vec<_>>().join(", ")
}

fn head(proposal: &Proposal, list: &Read) -> String {
    let all: f64 = list.stock.iter().map(|b| b.width * b.thickness * b.length).sum();
    let share = 100.0 * proposal.volume as f64 / all;
    match proposal.boards.len() {
        0 => "no board".to_owned(),
        1 => format!("1 board; {share:.1} % of the wood is in it"),
        many => format!("{many} boards; {share:.1} % of the wood is in them"),
    }
}

fn board(made: &BoardMade, list: &Read) -> String {
    let show = |mm: f64| list.rule.show(mm, Rounding::Down, Rest::Told);
    let [length, width, thickness] = made.size.map(show);
    let (strips, contrast) = (made.strips, made.contrast);
    let blanks = named(&made.blanks, list);
    format!(
        "{blanks}: {strips} strips, {length} long, {width} wide, {thickness} thick; neighbours differ by {contrast:.0} L*"
    )
}

fn proof(found: &Divided) -> String {
    let best = found.proposals.first().map_or(0, |p| p.volume);
    let what = "Ranked by how much of the wood is in boards, before flattening and trimming; then fewer boards first. How \
                neighbours differ is the mean over all pairs of a board's blanks, by the heartwood of each.";
    if found.proven {
        return format!("{what} Proven: no way to share out these blanks is better.");
    }
    let gap = 100.0 * found.bound.saturating_sub(best) as f64 / best.max(1) as f64;
    format!("{what} Not proven: a better way may be there, by {gap:.1} % at most.")
}
