//! The one table of keys. The defaults are common practice, no source, unless they say otherwise.

use super::keys::{Bounds, Fill, Key, Kind, Least};
use Fill::{Lengths, Nothing, Required, Value, Worked};
use Kind::{
    Choice, Choices, Colour, Inline, Length, List, Name, Number, Numbers, Pair, Percent, Places, Share, Switch, Table,
    Tables, Text, Whole,
};

/// The most blanks, and the most that are laid.
pub(super) const MOST_BLANKS: usize = 200;
/// The most strips.
pub(super) const MOST_STRIPS: usize = 2000;
/// The most handholds.
pub(super) const MOST_HANDHOLDS: usize = 40;

const STRIPS: Kind = Whole(1, MOST_STRIPS as i64);
const STRIP_TURNS: Kind = Choice(&["as cut", "rolled over", "end for end", "end over end"]);
const BLANK_TURNS: Kind = Choice(&["as laid", "rolled over", "end for end", "end over end"]);
const EDGES: &[&str] = &["left", "right", "front", "back"];
const FACES: &[&str] = &["upper", "lower"];
const RIMS: &[&str] = &["upper rim", "lower rim"];
const END: &[&str] = &["u", "v"];
const PATCH: &[&str] = &["x", "y", "width", "height"];
const IN_BLANK: &[&str] = &["u", "v", "w"];
const RING_LINES: Kind = List { bare: "points", most: 400 };
const FRESH_RINGS: Kind = List { bare: "points", most: 30 };
const OTHER_LINES: Kind = List { bare: "", most: 20 };
const ON_END: Kind = Kind::Line(END, Bounds::PLACE);
const XYZ: &[&str] = &["X", "Y", "Z"];
const CORNERS: &[&str] = &["near end first blank", "near end last blank", "far end first blank", "far end last blank"];
const ONLY_BIT: Fill = Worked("the bit, where there is only one");
const ONLY_PANEL: Fill = Worked("the panel, where there is only one");

const fn key(path: &'static str, kind: Kind, fill: Fill, about: &'static str) -> Key {
    Key { path, kind, fill, about }
}

const fn section(path: &'static str, about: &'static str) -> Key {
    Key { path, kind: Table, fill: Nothing(""), about }
}

/// All keys, in the order of a plan.
#[rustfmt::skip]
pub(super) static KEYS: &[Key] = &[
    key("quarterturn", Whole(1, 1), Required, "The format of the plan. This program reads format 1."),
    key("name", Text(80), Value("Board"), "What the board is called."),
    key("units", Choice(&["inch", "millimetre"]), Value("inch"),
        "The unit of bare numbers, and of everything that is shown."),
    key("finest", Length(Bounds::MARK), Lengths("1/64", "0.5 mm"),
        "The finest mark of the rule that the maker works with: in inches 1/2 to 1/128, in millimetres 1, 0.5, 0.2, 0.1, 0.05, 0.02 or 0.01."),

    section("shop", "The shop: what each machine takes, and how well it is set. Every section of it may be left out."),
    section("shop.saw", "The saw that cuts the panel into strips."),
    key("shop.saw.kerf", Length(Bounds::TAKEN), Lengths("1/8", "3.2 mm"), "What the blade takes. Cut a piece in two, add the halves, take that from what it was."),
    key("shop.saw.lost_first", Length(Bounds::ZERO_UP), Lengths("1/4", "6.5 mm"),
        "All that is lost at the near end before the first strip, kerf included, of a panel that says nothing of starts, snipe or squaring."),
    key("shop.saw.last_strip", Choice(&["left", "freed", "full cut"]), Value("freed"),
        "How the last strip leaves the rest: it is what is left, square and sound; a last cut frees it, the blade partly off the end; or that cut must be a full kerf in wood."),
    key("shop.saw.strip_lies", Choice(&["stop side", "far side"]), Value("stop side"),
        "Where the strip lies when it is cut: between stop and blade, or on the far side of the blade. Then the stop is set to strip and kerf."),
    key("shop.saw.set_to", Length(Bounds::TAKEN), Lengths("1/64", "0.4 mm"), "The stop is set good to ± this."),
    key("shop.saw.repeats_to", Length(Bounds::TAKEN), Lengths("0.004", "0.1 mm"), "Strips cut at one setting are alike to ± this."),
    key("shop.saw.kerf_known_to", Length(Bounds::TAKEN), Lengths("0.002", "0.05 mm"), "The kerf is known to ± this."),
    key("shop.saw.squaring_known_to", Length(Bounds::TAKEN), Lengths("1/64", "0.4 mm"), "What squaring the near end takes is known to ± this."),
    key("shop.saw.length_known_to", Length(Bounds::TAKEN), Lengths("1/32", "1 mm"), "The panel's length is known to ± this."),
    key("shop.saw.held", Choice(&["by hand", "hold-down"]), Value("by hand"), "How the piece is held: by hand on a sled, or under a clamped hold-down."),
    key("shop.saw.least_piece", Length(Bounds::ZERO_UP), Worked("held by hand `6` (`150 mm`), under a hold-down `3` (`75 mm`)"),
        "The least piece that may still be cut, strip included."),
    key("shop.saw.waste_block", Length(Bounds::ZERO_UP), Value("0"), "The length of a waste block fixed to the far end, so that there is more to hold."),
    section("shop.jointer", "The jointer, for blanks."),
    key("shop.jointer.widest", Length(Bounds::ABOVE_ZERO), Lengths("6", "150 mm"), "The widest that it takes."),
    key("shop.jointer.shortest", Length(Bounds::ZERO_UP), Lengths("12", "300 mm"), "The shortest that it takes."),
    section("shop.planer", "The thickness planer, for blanks and panels: never for end grain."),
    key("shop.planer.widest", Length(Bounds::ABOVE_ZERO), Lengths("12", "300 mm"), "The widest that it takes."),
    key("shop.planer.shortest", Length(Bounds::ZERO_UP), Lengths("14", "350 mm"), "The shortest that it takes."),
    section("shop.drum_sander", "The drum sander, for the board's faces."),
    key("shop.drum_sander.widest", Length(Bounds::ABOVE_ZERO), Lengths("16", "400 mm"), "The widest that it takes."),
    key("shop.drum_sander.shortest", Length(Bounds::ZERO_UP), Value("0"), "The shortest that it takes; 0 where it doesn't matter."),
    section("shop.router_table", "The router table, for handholds."),
    key("shop.router_table.pass", Length(Bounds::CUT), Lengths("1/8", "3 mm"), "How deep one pass goes."),
    key("shop.router_table.last_pass", Length(Bounds::TAKEN), Lengths("1/32", "0.8 mm"), "What is left for the last pass."),
    key("shop.router_table.least_edge", Length(Bounds::ZERO_UP), Lengths("10", "250 mm"), "The shortest edge that may be lowered onto the bit."),
    key("shop.router_table.least_height", Length(Bounds::ZERO_UP), Lengths("4", "100 mm"), "The least height at which a board may be lowered onto the bit."),
    section("shop.cnc", "A hobby CNC. Without this section no program is written."),
    key("shop.cnc.travel", Kind::Lengths(XYZ, Bounds::ABOVE_ZERO), Lengths("24, 24, 4", "600 mm, 600 mm, 100 mm"), "How far it moves in X, Y and Z."),
    key("shop.cnc.clear_height", Length(Bounds::ABOVE_ZERO), Lengths("4", "100 mm"), "What fits under the bit. A board on edge often needs a clamp at the front of the machine: then this is the room there."),
    key("shop.cnc.safe_height", Length(Bounds::CUT), Lengths("1/2", "12 mm"), "How high above the edge the bit travels when it doesn't cut."),
    key("shop.cnc.step_down", Length(Bounds::CUT), Nothing("by the bit"), "How deep one pass goes."),
    key("shop.cnc.speed", Whole(100, 100_000), Value("16000"), "Spindle speed in turns a minute."),
    key("shop.cnc.chip_load", Length(Bounds::CHIP), Lengths("0.002", "0.05 mm"), "What one cutting edge takes in one turn."),
    key("shop.cnc.ramp", Whole(1, 1000), Value("10"), "The bit goes down along the cut: so much of length for one of depth."),
    key("shop.cnc.clamps", Tables(20), Nothing("no clamps"), "A clamp beside the cut, measured along the edge as the program's X is: from the end at your left hand as you face the board's lower face, with this edge up."),
    key("shop.cnc.clamps.from", Length(Bounds::PLACE), Required, "Where it begins along the edge."),
    key("shop.cnc.clamps.to", Length(Bounds::PLACE), Required, "Where it ends along the edge."),
    key("shop.cnc.clamps.above", Length(Bounds::PLACE), Required, "How high it stands above the edge; below 0 where it ends under it."),

    section("limits", "What the findings are judged by."),
    key("limits.lip_least", Length(Bounds::ZERO_UP), Lengths("1/4", "6 mm"), "A lip beside a handhold that is thinner than this can't be made."),
    key("limits.lip_care", Length(Bounds::ZERO_UP), Lengths("5/16", "8 mm"), "A lip that is thinner than this wants care."),
    key("limits.behind_floor", Length(Bounds::ZERO_UP), Lengths("1/8", "3 mm"), "The least wood between a handhold's floor and a glue line parallel to its edge."),
    key("limits.floor", Length(Bounds::ZERO_UP), Lengths("1/4", "6 mm"), "The least wood under a cut in a face."),
    key("limits.flat", Length(Bounds::ZERO_UP), Lengths("1/8", "3 mm"), "The least flat between a handhold's rim and the round-over."),
    key("limits.between_recesses", Length(Bounds::ZERO_UP), Lengths("1/2", "12 mm"), "The least wood between two recesses."),
    key("limits.sliver", Length(Bounds::ZERO_UP), Lengths("1/4", "6 mm"), "The narrowest outer strip that the trim may leave."),
    key("limits.thin", Length(Bounds::ZERO_UP), Lengths("1", "25 mm"), "A board thinner than this wants care."),
    key("limits.thick", Length(Bounds::ZERO_UP), Lengths("2", "50 mm"), "A board thicker than this is noted."),
    key("limits.short_chance", Share, Value("0.05"), "The chance of falling short of the wanted strips that the maker takes."),
    key("limits.colour", Number(0.0, 100.0), Value("3"), "How far the colours of two blanks of one wood may lie apart, sapwood and heartwood each, before it is a finding: CIEDE2000, as photographed. About 1 is what a practised eye can just see between even patches that touch; the default is our own choice."),

    key("woods", Tables(50), Nothing("no woods but those that are known"), "A wood that isn't known, or other colours for one that is."),
    key("woods.name", Text(40), Required, "Its name."),
    key("woods.heartwood", Colour, Required, "The colour of its heartwood, end grain, oiled."),
    key("woods.sapwood", Colour, Required, "The colour of its sapwood."),

    key("blanks", Tables(MOST_BLANKS), Required, "One blank, or several cut from the same wood that look alike."),
    key("blanks.letter", Text(8), Required, "The letter on its end: letters and digits. The second of several alike is A2, the third A3."),
    key("blanks.wood", Text(40), Required, "Its wood, by name."),
    key("blanks.width", Length(Bounds::SECTION), Required, "Across its width."),
    key("blanks.thickness", Length(Bounds::SECTION), Required, "Through its thickness."),
    key("blanks.length", Length(Bounds { least: Least::At(10_000), most: 10_000 }), Required, "Along the grain."),
    key("blanks.count", Whole(1, MOST_BLANKS as i64), Value("1"), "How many there are of it. Each time the order of a panel names the letter, the next one is laid."),
    key("blanks.sizes", Choice(&["milled", "rough"]), Value("milled"),
        "What width and thickness are: as milled, ready for the glue-up; or rough, of which its panel's each_side and each_face are still to be taken."),
    key("blanks.moisture", Percent, Nothing("not measured"), "Moisture content as measured, in per cent."),
    key("blanks.rip", Inline, Nothing("not ripped to a line"), "The blank is to be ripped so that a traced line runs out exactly along its new corner: where to rip at each end is worked out. The blank is drawn as it is before that."),
    key("blanks.rip.line", Text(40), Value("heartwood"), "The line's name, traced on both ends."),
    key("blanks.rip.side", Choice(&["marked", "opposite"]), Value("marked"), "The side that is ripped off: that of the marked corner (u = 0), or the opposite one."),
    key("blanks.rip.face", Choice(&["marked", "opposite"]), Value("marked"), "The face along which the line is to run out: that of the marked corner (v = 0), or the opposite one."),
    section("blanks.shows", "What the ends of this blank show: the pith, about which rings are drawn that the wood could have; or lines traced on them, which the wood has; or a photograph, whose colours it has too. Each end may be described in another way. u is measured across the width and v through the thickness, from the marked corner: the lower right one as you look at the near end, the lower left one at the far end. With one end only, the figure is taken to run straight, which is a guess; without this section, all of it is a guess."),
    key("blanks.shows.given", Choice(&["milled", "rough"]), Worked("as `sizes`"), "Whether u and v are measured on the blank as milled, or before milling."),
    key("blanks.shows.ring_width", Length(Bounds::RING), Lengths("0.1", "2.5 mm"), "The mean width of a growth ring, where no end is traced. Beyond traced rings their own mean width goes on."),
    key("blanks.shows.seed", Whole(0, i64::MAX), Worked("from the letter"), "All that is left to chance in the figure follows from it."),
    key("blanks.shows.near", Inline, Nothing("not seen"), "The near end."),
    key("blanks.shows.near.pith", Kind::Lengths(END, Bounds::PLACE), Worked("must be given, unless the end is traced or photographed"), "Where the rings have their centre; it may lie outside the blank."),
    key("blanks.shows.near.heartwood", Length(Bounds::ZERO_UP), Worked("as at the other end; else all heartwood"), "The radius of the heartwood from the pith, where the end is not traced; 0 is all sapwood."),
    key("blanks.shows.near.photo", Inline, Nothing("not photographed"), "A photograph of this end. The colours are taken from it, and rings are looked for in it, unless they are traced here too. `quarterturn photo` shows what is found, and prints this entry."),
    key("blanks.shows.near.photo.file", Text(400), Required, "A JPEG or PNG, its name as seen from the folder that the plan is in."),
    key("blanks.shows.near.photo.corners", Places, Nothing("looked for on a plain background, the marked corner where the frame has it: the lower right one at the near end, the lower left one at the far end"), "The end's corners in the photograph, upright, in pixels from its upper left corner: those of (0, 0), (U, 0), (U, V) and (0, V), the marked corner first. They run clockwise at the near end and anticlockwise at the far end."),
    key("blanks.shows.near.photo.card", Numbers(PATCH), Nothing("no card: light and exposure are taken to be right, which is said"), "A patch of a white or grey card that lies in the same light beside the end: x and y of its upper left corner, width and height, in pixels."),
    key("blanks.shows.near.photo.reflectance", Share, Value("0.9"), "The share of light that the card gives back: plain white paper about 0.9, a photographer's grey card 0.18."),
    key("blanks.shows.near.traced", Inline, Nothing("not traced"), "Lines traced on this end."),
    key("blanks.shows.near.traced.rings", RING_LINES, Required, "Ring boundaries, two at least, from the inside out and without a gap: each line is the edge of the ring next to the last. The ends are matched by the rings that have the same name on both, else by the sequence of their widths."),
    key("blanks.shows.near.traced.rings.points", ON_END, Required, "The line, from one end of it to the other; it may leave the blank."),
    key("blanks.shows.near.traced.rings.name", Text(40), Nothing("no name"), "The same name at the other end is the same line."),
    key("blanks.shows.near.traced.heartwood", ON_END, Nothing("no such line on this end"), "The line where heartwood ends and sapwood begins; it need not follow a ring. On one end only, it keeps its place among the rings."),
    key("blanks.shows.near.traced.other", OTHER_LINES, Nothing("none"), "Any other line to be followed: where a colour changes."),
    key("blanks.shows.near.traced.other.name", Text(40), Required, "Its name."),
    key("blanks.shows.near.traced.other.points", ON_END, Required, "The line."),
    key("blanks.shows.far", Inline, Nothing("not seen"), "The far end."),
    key("blanks.shows.far.pith", Kind::Lengths(END, Bounds::PLACE), Worked("must be given, unless the end is traced or photographed"), "As at the near end."),
    key("blanks.shows.far.heartwood", Length(Bounds::ZERO_UP), Worked("as at the other end; else all heartwood"), "As at the near end."),
    key("blanks.shows.far.photo", Inline, Nothing("not photographed"), "As at the near end."),
    key("blanks.shows.far.photo.file", Text(400), Required, "As at the near end."),
    key("blanks.shows.far.photo.corners", Places, Nothing("looked for on a plain background, the marked corner where the frame has it: the lower right one at the near end, the lower left one at the far end"), "As at the near end."),
    key("blanks.shows.far.photo.card", Numbers(PATCH), Nothing("no card: light and exposure are taken to be right, which is said"), "As at the near end."),
    key("blanks.shows.far.photo.reflectance", Share, Value("0.9"), "As at the near end."),
    key("blanks.shows.far.traced", Inline, Nothing("not traced"), "As at the near end."),
    key("blanks.shows.far.traced.rings", RING_LINES, Required, "As at the near end."),
    key("blanks.shows.far.traced.rings.points", ON_END, Required, "As at the near end."),
    key("blanks.shows.far.traced.rings.name", Text(40), Nothing("no name"), "As at the near end."),
    key("blanks.shows.far.traced.heartwood", ON_END, Nothing("no such line on this end"), "As at the near end."),
    key("blanks.shows.far.traced.other", OTHER_LINES, Nothing("none"), "As at the near end."),
    key("blanks.shows.far.traced.other.name", Text(40), Required, "As at the near end."),
    key("blanks.shows.far.traced.other.points", ON_END, Required, "As at the near end."),
    key("blanks.shows.without_line", Choice(&["heartwood", "sapwood"]), Value("heartwood"), "What a traced blank is where no heartwood line is traced on it."),
    key("blanks.shows.long", List { bare: "", most: 24 }, Nothing("none"), "A line followed along a long face or an edge of a traced blank: it pins the figure between the ends."),
    key("blanks.shows.long.points", Kind::Line(IN_BLANK, Bounds::PLACE), Required, "Its points; w is measured along the grain from the blank's near end."),
    key("blanks.shows.long.name", Text(40), Nothing("no name: a ring, found by where it lies"), "The name of a line on an end that it is the same as."),
    key("blanks.shows.part_way", List { bare: "", most: 4 }, Nothing("none"), "A section part-way of a traced blank: the fresh face after the first strips are cut. What it shows joins what the ends show."),
    key("blanks.shows.part_way.at", Length(Bounds::ABOVE_ZERO), Required, "Where it is, along the grain from the blank's near end."),
    key("blanks.shows.part_way.rings", FRESH_RINGS, Nothing("none"), "Ring boundaries seen there; a gap doesn't matter."),
    key("blanks.shows.part_way.rings.points", ON_END, Required, "The line."),
    key("blanks.shows.part_way.rings.name", Text(40), Nothing("no name: found by where it lies"), "The name of a line on an end that it is the same as."),
    key("blanks.shows.part_way.heartwood", ON_END, Nothing("not seen there"), "The line where heartwood ends."),
    key("blanks.shows.part_way.other", OTHER_LINES, Nothing("none"), "Any other line that an end has too."),
    key("blanks.shows.part_way.other.name", Text(40), Required, "Its name."),
    key("blanks.shows.part_way.other.points", ON_END, Required, "The line."),
    key("blanks.shows.disturbed", List { bare: "", most: 50 }, Nothing("none"), "A knot or a check in a traced blank: nothing is predicted there."),
    key("blanks.shows.disturbed.at", Kind::Lengths(IN_BLANK, Bounds::PLACE), Required, "Its middle."),
    key("blanks.shows.disturbed.radius", Length(Bounds::ABOVE_ZERO), Required, "How far it disturbs the rings."),

    key("panels", Tables(20), Required, "A panel: what the first glue-up makes."),
    key("panels.name", Name, Worked("`\"1\"`, `\"2\"`, as they stand in the plan"), "What it is called in the lay-up."),
    key("panels.order", List { bare: "blank", most: MOST_BLANKS }, Required,
        "Its blanks, from left to right as seen from the far end (right to left from the near end)."),
    key("panels.each_side", Pair("at the marked corner", "opposite", Bounds::TAKEN), Lengths("1/16", "1.5 mm"), "Jointed and ripped off each side of a rough blank, across its width."),
    key("panels.each_face", Pair("at the marked corner", "opposite", Bounds::TAKEN), Lengths("1/16", "1.5 mm"), "Planed off each face of a rough blank, through its thickness."),
    key("panels.trued", Pair("first blank's edge", "last blank's edge", Bounds::TAKEN), Lengths("1/16", "1.5 mm"), "Taken off each outer edge of the panel to true it."),
    key("panels.planed_lower", Length(Bounds::TAKEN), Lengths("1/32", "0.8 mm"), "Planed off the panel's lower face."),
    key("panels.planed_upper", Length(Bounds::TAKEN), Lengths("1/32", "0.8 mm"), "Planed off the panel's upper face."),
    key("panels.snipe_near", Length(Bounds::ZERO_UP), Nothing("not said"), "Planer snipe at the near end, which must be cut off."),
    key("panels.snipe_far", Length(Bounds::ZERO_UP), Nothing("not said"), "Planer snipe at the far end, which must be cut off."),
    key("panels.squaring", Length(Bounds::ZERO_UP), Nothing("not said"), "What squaring the near end must take off, without the kerf."),
    key("panels.far_loss", Length(Bounds::ZERO_UP), Lengths("1/8", "3 mm"), "What must come off the far end besides snipe: out of square, uneven blanks."),
    key("panels.count", STRIPS, Nothing("as in [strips]"), "How many strips to cut from this panel, where it differs from the others."),
    key("panels.order.blank", Text(8), Required, "The blank's letter."),
    key("panels.order.turn", BLANK_TURNS, Value("as laid"), "How it is turned: rolled over about its length, end for end with the same face up, or end over end."),
    key("panels.order.quarter_roll", Switch, Value("false"), "Rolled a quarter about its length before that, anti-clockwise seen from the far end; only where its section is square."),
    key("panels.order.start", Length(Bounds::ZERO_UP), Value("0"), "How far its near end lies behind the panel's raw near end."),

    section("strips", "How the panels are cut. One of count, width and board thickness is needed; more are checked against each other."),
    key("strips.count", STRIPS, Nothing("all that fit"), "Strips from each panel. Alone, it gives the largest safe stop setting."),
    key("strips.width", Length(Bounds::STRIP), Nothing("by the others"), "The strip's width, as cut: the board's thickness before it is flattened."),
    key("strips.board_thickness", Length(Bounds::STRIP), Nothing("by the others"), "The finished board's thickness, flattened on both faces."),

    section("layup", "How the strips lie in the board, from left to right. As cut: the cut face nearer the far end is up, the panel's upper face to the right, the first blank at the back."),
    key("layup.repeat", List { bare: "turn", most: MOST_STRIPS }, Worked("`[\"as cut\"]`; with several panels, one such entry for each"),
        "Entries that are laid one after another, again and again, each with the next strip of its panel, until a panel has none left."),
    key("layup.left_out", List { bare: "strip", most: MOST_STRIPS }, Nothing("none"), "Strips that the repeat leaves out."),
    key("layup.places", List { bare: "strip", most: MOST_STRIPS }, Nothing("the repeat"), "Every place by itself, instead of a repeat."),
    key("layup.mirror_pairs", Switch, Worked("`true` for a repeat of even length with two or more different turns, else `false`"),
        "Whether two strips make one figure, so that their count should be even."),
    key("layup.repeat.turn", STRIP_TURNS, Value("as cut"), "How the strip is turned: rolled over about its long axis, end for end about the upright, end over end about the board's length."),
    key("layup.repeat.panel", Name, ONLY_PANEL, "The panel that the strip is from."),
    key("layup.repeat.stagger", Length(Bounds::PLACE), Value("0"), "How far it is slid toward the back."),
    key("layup.left_out.strip", STRIPS, Required, "Its number, from 1 at the near end."),
    key("layup.left_out.panel", Name, ONLY_PANEL, "The panel that it is from."),
    key("layup.places.strip", STRIPS, Required, "Its number, from 1 at the near end."),
    key("layup.places.panel", Name, ONLY_PANEL, "The panel that it is from."),
    key("layup.places.turn", STRIP_TURNS, Value("as cut"), "How it is turned, as in the repeat."),
    key("layup.places.stagger", Length(Bounds::PLACE), Value("0"), "How far it is slid toward the back."),

    section("finishing", "What is taken off the glued board."),
    key("finishing.flatten_upper", Length(Bounds::TAKEN), Lengths("1/16", "1.5 mm"), "Flattened off the upper face, the show face."),
    key("finishing.flatten_lower", Length(Bounds::TAKEN), Lengths("1/16", "1.5 mm"), "Flattened off the lower face."),
    key("finishing.trim", Length(Bounds::ZERO_UP), Lengths("1/4", "6 mm"), "Trimmed off each edge that has no trim of its own below."),
    key("finishing.trim_left", Length(Bounds::ZERO_UP), Worked("as `trim`"), "Trimmed off the left edge."),
    key("finishing.trim_right", Length(Bounds::ZERO_UP), Worked("as `trim`"), "Trimmed off the right edge."),
    key("finishing.trim_front", Length(Bounds::ZERO_UP), Worked("as `trim`"), "Trimmed off the front edge."),
    key("finishing.trim_back", Length(Bounds::ZERO_UP), Worked("as `trim`"), "Trimmed off the back edge."),

    key("bits", Tables(100), Nothing("no bits"), "A router bit."),
    key("bits.name", Text(40), Required, "What it is called in the handholds."),
    key("bits.diameter", Length(Bounds::CUT), Required, "Its diameter."),
    key("bits.corner_radius", Length(Bounds::TAKEN), Value("0"), "The radius of its rounded corner: 0 for a straight bit, half the diameter for a core-box bit, between them for a bowl bit."),
    key("bits.reach", Length(Bounds::CUT), Worked("its diameter"), "The length that cuts: no recess is deeper."),
    key("bits.flutes", Whole(1, 12), Value("2"), "Its cutting edges."),
    key("bits.cuts_at_centre", Switch, Value("false"), "Whether it cuts at dead centre, so that it may be plunged straight down."),
    key("bits.most_speed", Whole(100, 100_000), Nothing("not said"), "The highest speed that it may turn, in turns a minute."),

    key("handholds", Tables(MOST_HANDHOLDS), Nothing("no handholds"), "A handhold: a recess that a bit leaves in an edge of the finished board."),
    key("handholds.edge", Choices(EDGES), Required, "Its edge; with a list, one handhold in each of them."),
    key("handholds.bit", Text(40), Worked("the bit, where there is only one"), "The bit's name."),
    key("handholds.depth", Length(Bounds::CUT), Lengths("1/4", "6 mm"), "How deep, measured from the edge."),
    key("handholds.setback", Length(Bounds::ZERO_UP), Lengths("2", "50 mm"), "From each corner of the trimmed board to the end of the recess."),
    key("handholds.setback_left", Length(Bounds::ZERO_UP), Worked("as `setback`"), "The same from the left corner alone, for the front and back edges."),
    key("handholds.setback_right", Length(Bounds::ZERO_UP), Worked("as `setback`"), "From the right corner alone."),
    key("handholds.setback_front", Length(Bounds::ZERO_UP), Worked("as `setback`"), "From the front corner alone, for the left and right edges."),
    key("handholds.setback_back", Length(Bounds::ZERO_UP), Worked("as `setback`"), "From the back corner alone."),
    key("handholds.right_hand_stop", Length(Bounds::ABOVE_ZERO), Nothing("by the setbacks"), "Instead of setbacks: the right-hand stop block on the router table, the starting stop, from the bit's centre."),
    key("handholds.left_hand_stop", Length(Bounds::ABOVE_ZERO), Nothing("by the setbacks"), "The left-hand stop block, from the bit's centre."),
    key("handholds.above_lower_face", Length(Bounds::ABOVE_ZERO), Nothing("centred on the thickness"), "The middle of the recess above the board's lower face."),
    key("handholds.passes", Whole(1, 100), Nothing("by the depth of a pass"), "In how many passes it is cut."),

    section("corners", "The board's four corners are rounded, seen from above. Without this section they stay square."),
    key("corners.radius", Length(Bounds { least: Least::At(100), most: 1000 }), Required, "With this radius."),
    section("round_over", "Rims are rounded over, all round the board. Without this section they stay square."),
    key("round_over.radius", Length(Bounds::CUT), Required, "With this radius."),
    key("round_over.rims", Choices(RIMS), Worked("both"), "Which: that of the upper face, of the lower face, or a list of both."),
    section("chamfer", "Rims are chamfered at half a right angle, all round the board."),
    key("chamfer.size", Length(Bounds::CUT), Required, "So far in from the side, and as far from the face."),
    key("chamfer.rims", Choices(RIMS), Worked("those that aren't rounded over"), "Which rims."),

    key("grooves", Tables(4), Nothing("no grooves"), "A juice groove: once round a face, at a constant distance from the edges."),
    key("grooves.face", Choice(FACES), Value("upper"), "The face it is cut into."),
    key("grooves.bit", Text(40), ONLY_BIT, "The bit's name."),
    key("grooves.depth", Length(Bounds::CUT), Lengths("1/4", "6 mm"), "How deep."),
    key("grooves.setback", Length(Bounds::ZERO_UP), Lengths("3/4", "20 mm"), "From each edge of the finished board to the groove's nearer rim."),
    key("grooves.corner_radius", Length(Bounds::ZERO_UP), Lengths("1", "25 mm"), "The radius of the corners that the bit's centre runs round; 0 for sharp ones."),
    key("grooves.spouts", List { bare: "edge", most: 4 }, Nothing("none"), "Spouts: channels from this groove out through an edge. Each is an edge's name, or a table."),
    key("grooves.spouts.edge", Choice(EDGES), Required, "The edge that it leaves by."),
    key("grooves.spouts.bit", Text(40), Worked("the groove's"), "The bit's name."),
    key("grooves.spouts.depth", Length(Bounds::CUT), Worked("the groove's"), "How deep."),
    key("grooves.spouts.along", Length(Bounds::ABOVE_ZERO), Nothing("the middle of the edge"), "From the edge's left or front end to the spout's middle."),

    key("finger_recesses", Tables(8), Nothing("no finger recesses"), "A recess under an edge, cut from the lower face: fingers reach under the board."),
    key("finger_recesses.edge", Choices(EDGES), Required, "Its edge; with a list, one in each of them."),
    key("finger_recesses.bit", Text(40), ONLY_BIT, "The bit's name: a straight or a bowl bit leaves a flat bottom, a core-box bit a cove."),
    key("finger_recesses.depth", Length(Bounds::CUT), Lengths("3/8", "10 mm"), "How deep, from the lower face."),
    key("finger_recesses.in_from_edge", Length(Bounds::ZERO_UP), Value("0"), "From the edge to the bit's centre: at 0 half the bit's width is cut; so far in that the edge stays whole, it is a pocket."),
    key("finger_recesses.setback", Pair("at the left or front end", "at the other end", Bounds::ZERO_UP), Lengths("3", "75 mm"), "From each corner of the finished board to the end of the recess."),

    section("feet", "Four blind holes in the lower face, for feet."),
    key("feet.bit", Text(40), ONLY_BIT, "The bit's name."),
    key("feet.depth", Length(Bounds::CUT), Lengths("3/8", "10 mm"), "How deep."),
    key("feet.from_edges", Pair("from the left and right edges", "from the front and back edges", Bounds::ABOVE_ZERO), Lengths("1 1/2", "40 mm"), "From the edges to the middle of each hole."),

    section("hanging_hole", "A hole right through, to hang the board up by."),
    key("hanging_hole.bit", Text(40), ONLY_BIT, "The bit's name; its diameter is the hole's."),
    key("hanging_hole.edge", Choice(EDGES), Required, "The edge that it is near."),
    key("hanging_hole.in_from_edge", Length(Bounds::ABOVE_ZERO), Lengths("1", "25 mm"), "From that edge to the hole's middle."),
    key("hanging_hole.along", Length(Bounds::ABOVE_ZERO), Nothing("the middle of the edge"), "From the edge's left or front end to the hole's middle."),

    section("measured", "What was measured on the way. From then on it stands in place of what was planned."),
    key("measured.board_thickness", Length(Bounds::STRIP), Nothing("as planned"), "The board's thickness after flattening."),
    key("measured.board_length", Length(Bounds::ABOVE_ZERO), Nothing("as planned"), "The board's length after the second glue-up, before trimming."),
    key("measured.panels", Tables(20), Nothing("as planned"), "One panel as measured."),
    key("measured.panels.panel", Name, ONLY_PANEL, "The panel's name."),
    key("measured.panels.thickness", Kind::Lengths(CORNERS, Bounds::SECTION), Nothing("as planned"), "Its thickness at the four corners after planing."),
    key("measured.panels.strips", STRIPS, Nothing("as planned"), "How many strips came out."),

    section("mesh", "The solid as a mesh."),
    key("mesh.chord_tolerance", Length(Bounds::CHORD), Value("0.02 mm"), "How far the mesh may stay away from a rounded surface."),
];
