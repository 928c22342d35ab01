//! Templates as files: each drawn once at 1:1, then as one SVG, and over as many sheets of paper as it takes.
//!
//! Lengths that something is set by are brought down to the maker's rule, as printed.

use super::{Flow, Shop, set_up, templates};
use crate::paper::Template;
use crate::paper::flow::MARGIN;
use crate::paper::page::{Page, Path, Side, Tone, arc};
use crate::paper::svg;
use crate::paper::text::{Block, POINT, Style};
use crate::paper::tile::tiles;
use crate::rs274;
use crate::words::Told;
use quarterturn_geometry::cut::Cuts;
use quarterturn_geometry::job::{FromPanel, Holds};
use quarterturn_geometry::measure::Rounding;
use quarterturn_geometry::path::{Cutting, RouterSetup, together};

/// A cutting line's stroke; a length is from outer edge to outer edge.
const STROKE: f64 = 0.25;
/// How high a set-up block and a tape are drawn, mm.
const BLOCK: f64 = 30.0;
const TAPE: f64 = 26.0;
/// The narrowest SVG, so that the bars fit on it.
const NARROW: f64 = 120.0;

/// One template before it is put on paper.
struct Drawn {
    name: String,
    title: String,
    says: String,
    body: Page,
}

/// All templates that the plan needs.
pub(super) fn all(shop: &Shop, size: [f64; 2]) -> Vec<Template> {
    let mut drawn = Vec::new();
    for from in &shop.outcome.panels {
        drawn.extend(stop(shop, from));
        drawn.extend(marks(shop, from));
    }
    drawn.extend(handholds(shop));
    drawn.extend(corner(shop));
    drawn.extend(feet(shop));
    drawn.into_iter().map(|one| on_paper(shop, one, size)).collect()
}

fn on_paper(shop: &Shop, drawn: Drawn, size: [f64; 2]) -> Template {
    let board = crate::lettering::plain(&shop.job.name, 80);
    let head = |flow: &mut Flow, sheet: Option<[usize; 2]>| {
        flow.sheet_of(drawn.title.clone());
        if let Some([number, of]) = sheet {
            flow.say("template-sheet", &[("number", Told::Count(number)), ("of", Told::Count(of))]);
            flow.small("template-join", &[]);
        }
        flow.paragraph(&drawn.says, Style::of(9.5), 0.0);
        flow.small("templates-about", &[]);
        for (key, long) in [("templates-bar-mm", 100.0), ("templates-bar-in", 4.0 * 25.4)] {
            templates::bar(flow, &shop.words.say(key), long);
        }
    };
    let wide = drawn.body.size[0].max(NARROW) + 2.0 * MARGIN;
    let mut flow = Flow::new(shop.words, board.clone(), [wide, 1e5]);
    head(&mut flow, None);
    let top = flow.y;
    let mut whole = flow.pages.pop().unwrap_or_else(|| Page::new(size));
    whole.size[1] = top + drawn.body.size[1] + MARGIN;
    let room = [drawn.body.size[0], drawn.body.size[1] + 1.0];
    for tile in tiles(drawn.body.size, room) {
        tile.draw(&drawn.body, &mut whole, [MARGIN, top], room);
    }
    let mut pages = Flow::new(shop.words, board, size);
    // No higher than what is drawn, so that the seams are not either.
    let window = |flow: &Flow| [flow.room(), flow.left().min(drawn.body.size[1] + 6.0)];
    // The head is as high on every sheet; of several it also says how they are joined.
    let parts = |sheet: Option<[usize; 2]>| {
        let mut trial = Flow::new(shop.words, String::new(), size);
        head(&mut trial, sheet);
        tiles(drawn.body.size, window(&trial))
    };
    let alone = parts(None);
    let all = if alone.len() > 1 { parts(Some([1, 2])) } else { alone };
    for (i, tile) in all.iter().enumerate() {
        head(&mut pages, (all.len() > 1).then_some([i + 1, all.len()]));
        let (corner, room) = ([MARGIN, pages.y], window(&pages));
        tile.draw(&drawn.body, pages.page(), corner, room);
    }
    Template { name: drawn.name, svg: svg::page(&whole), pages: pages.numbered(&shop.words.say(super::unit(shop.job))) }
}

/// A name as a file may have it.
fn file_name(name: &str) -> String {
    let clean: String =
        name.chars().take(40).map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
    clean.trim_matches('-').to_owned()
}

/// A number brought down to the maker's rule, mm; nothing where it is none or nothing.
fn length(shop: &Shop, key: &str) -> Option<f64> {
    let number = shop.given.numbers.get(key)?;
    Some(shop.job.rule.round(number.value, Rounding::Down).mm()).filter(|long| *long > 1.0)
}

/// A block to be cut to this length, what it is in it or beside it.
fn block(page: &mut Page, top: f64, long: f64, text: &str) {
    let half = STROKE / 2.0;
    page.rectangle([half, top + half], [long - STROKE, BLOCK - STROKE], STROKE);
    let inside = Block::of(text, Style::of(10.0), (long - 4.0).max(1.0));
    let fits = inside.width() <= long - 4.0 && inside.height() <= BLOCK - 2.0;
    if fits {
        inside.draw(page, [2.0, top + (BLOCK - inside.height()) / 2.0], Side::Start);
    } else {
        let beside = Block::of(text, Style::of(10.0), 80.0);
        beside.draw(page, [long + 3.0, top + (BLOCK - beside.height()) / 2.0], Side::Start);
        page.size[0] = page.size[0].max(long + 3.0 + beside.width());
    }
    page.size = [page.size[0].max(long), page.size[1].max(top + BLOCK)];
}

/// The set-up blocks for the saw's stop: to the one tooth, and to the other.
fn stop(shop: &Shop, from: &FromPanel) -> Option<Drawn> {
    let name = &from.panel.name;
    let mut body = Page::new([0.0; 2]);
    for (row, tooth) in ["near", "far"].into_iter().enumerate() {
        let key = format!("panel.{name}.stop to {tooth} tooth");
        let long = length(shop, &key)?;
        let text = format!("{}: {}", shop.words.say(&format!("saw-stop-{tooth}")), shop.figure(&key));
        block(&mut body, row as f64 * (BLOCK + 6.0), long, &text);
    }
    let told = [("panel", Told::Word(name.as_str()))];
    Some(Drawn {
        name: format!("template-stop-{}", file_name(name)),
        title: shop.words.with("template-stop-title", &told),
        says: shop.words.say("template-block-says"),
        body,
    })
}

/// A tape with every strip's beginning and end, from the squared near end.
fn marks(shop: &Shop, from: &FromPanel) -> Option<Drawn> {
    let name = &from.panel.name;
    let start = |k: i64| shop.given.numbers.get(&format!("panel.{name}.strip.{k}.starts")).map(|n| n.value);
    let width = shop.outcome.width.mm();
    let starts: Vec<f64> = (1..=from.cut).map_while(start).collect();
    let end = starts.last()? + width;
    let mut body = Page::new([end + STROKE, TAPE]);
    let half = STROKE / 2.0;
    body.line([half, half], [end, half], STROKE, Tone::Black);
    for (k, x) in starts.iter().enumerate() {
        let to = x + width;
        for at in [*x, to] {
            body.line([at + half, 0.0], [at + half, TAPE], STROKE, Tone::Black);
        }
        if let Some(next) = starts.get(k + 1) {
            body.filled([to + half, 0.0], [next - to, TAPE * 0.5], Tone::Pale);
        }
        let size = 13.0 * POINT;
        body.text(&(k + 1).to_string(), [x + width / 2.0, TAPE * 0.62], size, Side::Middle);
    }
    let told = [("panel", Told::Word(name.as_str()))];
    Some(Drawn {
        name: format!("template-strips-{}", file_name(name)),
        title: shop.words.with("template-strips-title", &told),
        says: shop.words.say("template-strips-says"),
        body,
    })
}

/// For each handhold that goes to the router table: its two set-up blocks, and the table from above.
fn handholds(shop: &Shop) -> Vec<Drawn> {
    let holds = Cutting::all(&shop.job.handholds, &Cuts::default(), &shop.board.finished());
    let names = rs274::file_names(&together(holds, Holds::EachCut), Holds::EachCut);
    let mut all = Vec::new();
    for ((i, hold), name) in shop.job.handholds.iter().enumerate().zip(&names) {
        let setup = RouterSetup::of(hold, &shop.board.finished(), &shop.job.router_table);
        if !setup.may_be_lowered {
            continue;
        }
        let stem = name.trim_end_matches(".ngc");
        let edge = shop.words.name("edge", hold.edge.name());
        let told = [("edge", Told::Word(edge.as_str()))];
        let mut body = Page::new([0.0; 2]);
        let stop = |side: &str| format!("handhold.{}.{side}-hand stop from nearer edge", i + 1);
        // Two that are as long are one drawing.
        let alike = shop.shown(&stop("right")) == shop.shown(&stop("left"));
        let sides = if alike { &["right"][..] } else { &["right", "left"] };
        for (row, side) in sides.iter().enumerate() {
            let key = stop(side);
            let Some(long) = length(shop, &key) else { continue };
            let mut name = shop.words.with(&format!("templates-{side}-block"), &told);
            if alike {
                let left = shop.words.with("templates-left-block", &told);
                let both = format!("{name}; {left}");
                name = shop.words.with("templates-times", &[("what", Told::Word(&both)), ("count", Told::Count(2))]);
            }
            let text = format!("{name}: {}", shop.figure(&key));
            block(&mut body, row as f64 * (BLOCK + 6.0), long, &text);
        }
        all.push(Drawn {
            name: format!("template-blocks-{stem}"),
            title: shop.words.with("template-blocks-title", &told),
            says: shop.words.say("template-block-says"),
            body,
        });
        let figure = |name: &str| shop.figure(&format!("handhold.{}.{name}", i + 1));
        let across = setup.right_hand_stop + setup.left_hand_stop + 2.0 * set_up::BEYOND;
        let mut flow = Flow::new(shop.words, String::new(), [across + 2.0 * MARGIN, 1e5]);
        set_up::above(shop, hold, &setup, &figure, &mut flow);
        let mut body = Page::new([across, flow.y]);
        body.items.extend(flow.page().items.iter().map(|item| item.moved([-MARGIN, 0.0])));
        all.push(Drawn {
            name: format!("template-table-{stem}"),
            title: shop.words.with("template-table-title", &told),
            says: format!(
                "{} {}",
                shop.words.say("template-table-says"),
                shop.words.say(if setup.fences.len() > 1 { "drawn-above-moved" } else { "drawn-above" })
            ),
            body,
        });
    }
    all
}

/// The corner as it is before and after it is rounded.
fn corner(shop: &Shop) -> Option<Drawn> {
    let radius = shop.job.cuts.corner_radius?.mm();
    let side = radius * 1.6 + 12.0;
    let mut body = Page::new([side; 2]);
    let (low, quarter) = (STROKE / 2.0, std::f64::consts::FRAC_PI_2);
    let square = vec![[low + radius, low], [low; 2], [low, low + radius]];
    body.path(Path { dashed: true, ..Path::open(square, 0.15, Tone::Grey) });
    let mut points = vec![[low, side]];
    points.extend(arc([low + radius; 2], radius, [2.0 * quarter, 3.0 * quarter]));
    points.push([side, low]);
    body.path(Path::open(points, STROKE, Tone::Black));
    let title = format!("{}: {}", shop.words.say("outline-corners"), shop.figure("corners.radius"));
    let says = shop.words.say("template-corner-says");
    Some(Drawn { name: "template-corner".to_owned(), title, says, body })
}

/// One corner of the lower face with the middle of a foot's hole.
fn feet(shop: &Shop) -> Option<Drawn> {
    let [across, down] = shop.job.cuts.feet.as_ref()?.from_edges.map(|l| l.mm());
    let low = STROKE / 2.0;
    let mut body = Page::new(templates::foot_size([across, down]).map(|side| side + low));
    templates::foot(shop, &mut body, [low; 2], [across, down]);
    let says = shop.words.say("templates-feet-say");
    Some(Drawn { name: "template-feet".to_owned(), title: shop.words.say("templates-feet"), says, body })
}
