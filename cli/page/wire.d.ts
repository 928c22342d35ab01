// What passes between the page and the program. Made from the types in cli/src/open by its test: BLESS=1.

export type After = { 
/**
 * Which text it is of.
 */
revision: number, 
/**
 * Whether no finding stops the board from being made.
 */
can_be_made: boolean, places: Array<BenchShown>, };

export type AskedEdit = { 
/**
 * Which text it is to be made in.
 */
revision: number, edit: Edit, };

export type AskedSave = { 
/**
 * Which text is to be saved.
 */
revision: number, 
/**
 * The name of a new file; empty for the plan's own.
 */
name: string, };

export type Bench = "stock" | "panel" | "strips" | "board" | "cuts" | "paper";

export type BenchShown = { bench: Bench, numbers: Array<NumberShown>, findings: Array<FindingShown>, fields: Array<Field>, };

export type BlankTurn = "as laid" | "rolled over" | "end for end" | "end over end";

export type BoardShown = { 
/**
 * Along X, to the right.
 */
length: number, 
/**
 * Along Y.
 */
width: number, thickness: number, strips: Array<StripShown>, };

export type CutShown = { 
/**
 * From and to along the panel, from its raw near end.
 */
z: [number, number], 
/**
 * Where it lies in the board, from 0; none where it is left out.
 */
place: number | null, };

export type Edit = { "edit": "turn", places: Array<number>, to: Turn, } | { "edit": "turn_by", places: Array<number>, by: Turn, } | { "edit": "move", places: Array<number>, to: number, } | { "edit": "leave_out", places: Array<number>, } | { "edit": "put_back", panel: number, strip: number, at: number, } | { "edit": "stagger", places: Array<number>, by: string, } | { "edit": "set", key: Array<Step>, to: string | null, } | { "edit": "lay_blank", panel: number, at: number, letter: string, } | { "edit": "take_blank", panel: number, at: number, } | { "edit": "move_blank", panel: number, from: number, to: number, } | { "edit": "turn_blank", panel: number, at: number, turn: BlankTurn, } | { "edit": "turn_blank_by", panel: number, at: number, by: BlankTurn, } | { "edit": "add_blank", letter: string, wood: string, width: string, thickness: string, length: string, count: string, } | { "edit": "remove_blank", entry: number, } | { "edit": "replace", text: string, } | { "edit": "begin", with: string, } | { "edit": "take_from_disk" } | { "edit": "undo" } | { "edit": "redo" };

export type Field = { 
/**
 * Its path.
 */
key: Array<Step>, 
/**
 * What it belongs to.
 */
group: string, called: string, 
/**
 * As it is written; empty where it isn't.
 */
written: string, 
/**
 * What holds where nothing is written.
 */
usual: string, 
/**
 * What it is.
 */
about: string, 
/**
 * The words that may be written; empty where it is none of some words.
 */
words: Array<string>, 
/**
 * Whether it is what was measured in the shop.
 */
measured: boolean, };

export type FileShown = { name: string, 
/**
 * Its length, bytes.
 */
bytes: number, };

export type FindingShown = { 
/**
 * In words: can't be made, take care, note.
 */
kind: string, subject: string, says: string, mends: string, 
/**
 * The key of the plan that it turns on; empty where the plan leaves it to a default.
 */
key: string, };

export type LaidShown = { letter: string, 
/**
 * The names of the pictures of its own near and far end, as they are seen lying in the panel.
 */
ends: [string, string], wood: string, turn: BlankTurn, 
/**
 * From and to across the panel, from the first blank's edge.
 */
x: [number, number], };

export type MadeShown = { revision: number, files: Array<FileShown>, 
/**
 * Why nothing was made; empty where something was.
 */
refused: string, };

export type NumberShown = { 
/**
 * Its key in the report.
 */
key: string, called: string, shown: string, 
/**
 * What it is and where it comes from.
 */
about: string, };

export type OnDisk = "none" | "as_seen" | "changed" | "gone";

export type PanelShown = { name: string, width: number, thickness: number, 
/**
 * Along the grain.
 */
length: number, 
/**
 * The name of the picture of its far end, as seen standing there: the first blank at the left.
 */
picture: string, blanks: Array<LaidShown>, 
/**
 * All that are cut, from the near end.
 */
strips: Array<CutShown>, 
/**
 * How many come out of it at this width.
 */
fits: number, 
/**
 * How many are wanted and don't come out of it.
 */
lost: number, };

export type Refusal = { told: Array<Told>, };

export type Shown = { 
/**
 * Which text this is of.
 */
revision: number, 
/**
 * How much there was to tell so far.
 */
news: number, 
/**
 * What the board is called.
 */
name: string, 
/**
 * `in` or `mm`.
 */
unit: string, 
/**
 * The name of the plan's file; empty where there is none yet.
 */
file: string, on_disk: OnDisk, saved: boolean, can_undo: boolean, can_redo: boolean, 
/**
 * Whether it began with what was left unsaved.
 */
restored: boolean, 
/**
 * Why the last change is not kept in the journal; empty where it is.
 */
unkept: string, panels: Array<PanelShown>, board: BoardShown | null, 
/**
 * Why there is no board; empty where there is one.
 */
no_board: string, 
/**
 * Pixels a millimetre that pictures may be asked in.
 */
scales: [number, number, number, number, number, number, number, number], 
/**
 * Boards that may be begun from.
 */
samples: Array<string>, };

export type Step = string | number;

export type StripShown = { panel: number, panel_name: string, 
/**
 * Counted from 0 at the panel's near end.
 */
strip: number, turn: Turn, 
/**
 * How far it is slid toward the back, as a maker would write it.
 */
stagger: string, 
/**
 * From and to along the length.
 */
x: [number, number], 
/**
 * Of each of its blanks from and to across the width, from the front; in the panel's order.
 */
blanks: Array<[number, number]>, 
/**
 * What it shows of itself in each of the four turns, this one included.
 */
ways: Array<Way>, };

export type Told = { 
/**
 * The key of the plan; empty where it is none of them.
 */
key: string, 
/**
 * What is wrong.
 */
what: string, 
/**
 * What would be right; empty where there is nothing to say.
 */
right: string, 
/**
 * The line of the text as it would have been, from 1; 0 where it is about no line.
 */
line: number, };

export type Turn = "as cut" | "rolled over" | "end for end" | "end over end";

export type Way = { turn: Turn, 
/**
 * The name of its picture.
 */
picture: string, 
/**
 * The picture's width and height, mm.
 */
size: [number, number], 
/**
 * From the picture's mm to the board's, from the left upper corner, to the right and down: a, b, c, d, e and f of
 * x' = a x + c y + e, y' = b x + d y + f.
 */
placed: [number, number, number, number, number, number], };
