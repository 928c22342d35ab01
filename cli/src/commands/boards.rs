//! `boards`: from a list of what lies in stock, which boards it gives.

use crate::args::Boards;
use crate::failure::Failure;
use crate::{Status, terminal};
use quarterturn_geometry::measure::{Length, Rest, Rounding, Rule, Unit};
use quarterturn_geometry::search::{BoardMade, BoardsWanted, Divided, InStock, MOST_STOCK, Proposal, divided};
use quarterturn_geometry::wood::{Lab, Wood};
use serde::Deserialize;
use std::path::Path;
use std::time::{Duration, Instant};

/// A stock list as it is written; every length as [`Length::parse`] reads it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct List {
    #[serde(default)]
    units: Units,
    finest: Option<String>,
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
    width: [String; 2],
    length: [String; 2],
    thickness: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Shop {
    kerf: String,
    #[serde(default = "nothing")]
    ends: String,
    #[serde(default = "nothing")]
    trued: String,
    #[serde(default = "nothing")]
    planed: String,
}

fn nothing() -> String {
    "0".to_owned()
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Blank {
    letter: String,
    wood: String,
    width: String,
    thickness: String,
    length: String,
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
    let unit = if list.units == Units::Inch { Unit::Inch } else { Unit::Millimetre };
    let length = |what: &str, text: &str| Length::parse(text, unit).map_err(|e| format!("{what} = {text:?}: {e}"));
    let mm = |what: &str, text: &str| length(what, text).map(Length::mm);
    let both = |what: &str, [a, b]: &[String; 2]| Ok::<_, String>([mm(what, a)?, mm(what, b)?]);
    let (mut letters, mut stock) = (Vec::new(), Vec::new());
    for blank in &list.blanks {
        let wood = Wood::named(&blank.wood).ok_or_else(|| format!("wood = {:?} is not known", blank.wood))?;
        let what = |key: &str| format!("{key} of blank {}", blank.letter);
        let one = InStock {
            width: mm(&what("width"), &blank.width)?,
            thickness: mm(&what("thickness"), &blank.thickness)?,
            length: mm(&what("length"), &blank.length)?,
            lightness: Lab::of(wood.heartwood).l,
        };
        for which in 0..blank.count.min(MOST_STOCK + 1) {
            letters.push(if which == 0 { blank.letter.clone() } else { format!("{}{}", blank.letter, which + 1) });
            stock.push(one);
        }
        if stock.len() > MOST_STOCK {
            return Err(format!("there are more than {MOST_STOCK} blanks"));
        }
    }
    let (asked, shop) = (&list.boards, &list.shop);
    let wanted = BoardsWanted {
        width: both("width", &asked.width)?,
        length: both("length", &asked.length)?,
        strip: mm("thickness", &asked.thickness)?,
        kerf: mm("kerf", &shop.kerf)?,
        ends: mm("ends", &shop.ends)?,
        trued: mm("trued", &shop.trued)?,
        planed: mm("planed", &shop.planed)?,
        few,
    };
    Ok(Read { letters, stock, wanted, rule: rule(unit, list.finest.as_deref())? })
}

fn rule(unit: Unit, finest: Option<&str>) -> Result<Rule, String> {
    let text = finest.unwrap_or(if unit == Unit::Inch { "1/16" } else { "0.5" });
    let wrong = || format!("finest = {text:?} is no mark of a rule");
    match unit {
        Unit::Inch => {
            let denominator = text.trim().strip_prefix("1/").and_then(|d| d.parse().ok()).ok_or_else(wrong)?;
            Rule::inches(denominator).map_err(|_| wrong())
        }
        Unit::Millimetre => Rule::millimetres(Length::parse(text, unit).map_err(|_| wrong())?).map_err(|_| wrong()),
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
