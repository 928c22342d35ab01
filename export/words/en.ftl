# The words of the sheets in English. Syntax: Project Fluent. Figures come as arguments, already written for the maker's rule.

document-title = { $name }: sheets for the shop
foot-page = page { $page } of { $of }
foot-inches = All lengths in inches. "Full" is a hair over, "bare" a hair under.
foot-millimetres = All lengths in millimetres. "Full" is a hair over, "bare" a hair under.
no-source = Common practice, no source.
count-strips = { $count ->
    [one] { $count } strip
   *[other] { $count } strips
}
count-glue-lines = { $count ->
    [one] { $count } glue line
   *[other] { $count } glue lines
}
panel-named = Panel { $panel }
near-end = near end
panel-near-end = at the panel's near end
far-end = far end
panel-far-end = at the panel's far end

figure-inch = in
figure-full = full
figure-bare = bare
figure-board-feet = board feet
figure-pound = lb
figure-ounce = oz
figure-fluid-ounces = fl oz
figure-pound-force = lbf
figure-pound-force-an-area = lbf/in²
figure-square-inch = in²
figure-cubic-inch = in³
figure-turns-a-minute = turns a minute
figure-inches-a-minute = in/min
figure-millimetres-a-minute = mm/min
figure-feet-a-minute = ft a minute
figure-metres-a-second = m a second
figure-under = under
figure-over = over

# Overview
head-board = { $name }
head-continued = { $title }, continued
overview-seen = The finished board, seen from its { $broad } { $side } corner. Not to scale.
overview-length = Finished length, left to right
overview-width = Finished width, front to back
overview-thickness = Finished thickness
overview-made-of = { $count ->
    [one] { $count } strip
   *[other] { $count } strips
} from { $panels ->
    [one] one glued panel
   *[other] { $panels } glued panels
}. It will weigh about { $mass }.
overview-wood = { $wood }: { $count ->
    [one] { $count } blank
   *[other] { $count } blanks
}.
overview-before = Before you begin
overview-order = The sheets are in the order of the work; the CNC's stand together behind the others, and the step that one of them takes over names it. Tick each box when its step is done. Where a box asks for what you measured, write it there and in the plan, and make the sheets anew: everything after it follows.
overview-manual = The manual of each machine, local codes, and people trained on it come first. A caution here reminds; nothing here says that a cut is safe for you to make.
findings-title = What wants care
findings-none = Nothing was found that wants special care.
findings-only-notes = Nothing has to be mended before you begin. The notes below say what to know.
findings-in-english = As the program says it.
findings-one = { $kind }: { $subject }:
findings-mends = What mends it: { $mends }.
findings-if-wanted = Only if you want it: { $mends }.
notes-title = Notes
notes-one = { $subject }:
subject-board = Board
finding-figures = figures in it
kind-can-t-be-made = can't be made
kind-take-care = Take care
kind-note = Note

# Stock and milling
stock-title = Stock and milling list
stock-about = Mill every blank to these sizes before the first glue-up. Wide and thick are as the blank lies in the panel.
stock-letter = letter
stock-wood = wood
stock-wide = wide
stock-thick = thick
stock-long = long
stock-rough = before milling
stock-buy = Buy it rough, each piece at least { $more } wider and thicker than listed and no shorter, more where it is bowed or cupped (common practice, no source); the amounts reckon with { $more }, no defects and no saw cuts. A yard rounds its sizes: buy by what the pieces measure.
stock-buy-rough = What the plan gives rough counts as it is; the amounts have no defects and no saw cuts in them. A yard rounds its sizes: buy by what the pieces measure.
stock-to-buy = { $wood }: buy, rough
stock-sapwood = Sapwood to look for
stock-sapwood-says = How far it reaches from its corner on the ends, along the width by along the thickness, about: the nearer, the truer the picture.
stock-sapwood-size = { $wide } by { $thick }
stock-table-says = Leave the blanks their full length: the panel is squared on the saw.
stock-moisture = Moisture as you gave it: from { $low } to { $high }. Blanks of one board should lie within two points of each other.
stock-moisture-alike = Moisture as you gave it: { $low }.
stock-moisture-unknown = The plan names no moisture: weight and movement reckon with { $made }. Measure each blank if you can; within two points of each other, and as dry as your shop.
stock-unseen = Of some blanks neither end was described: how their figure will look is a guess.
stock-steps = Step by step
stock-choose = Lay out the blanks and check each: dry, no checks, no paint or metal in it. Where sapwood or rings make the pattern, take wood whose two ends look as in the pictures of the panel's ends, the sapwood in the same corner and as large. Letter both ends.
stock-joint = Joint one face flat, then one edge square to it.
stock-plane = Plane the other face parallel, to the thickness in the list. Feed with the grain rising away from the knives.
stock-rip = Rip to the width in the list. Leave the first and the last blank their allowance for truing: it is in the list already.
stock-dot = Put a dot on the marked corner of each blank's near end: low on the right as you look at that end. Which end is the near one, and how sapwood and rings lie then, is in the pictures of the panel's ends.
stock-limit = Your { $machine } takes pieces up to { $widest } wide and not shorter than { $shortest }.
stock-at-hand = Also needed
stock-bits = Router bits, how wide; round-over and chamfer, how large:
stock-bit-cnc = { $bit }, for the CNC
stock-clamps = Clamps, at once: { $clamps }, opening to { $open } and the scrap under their jaws; { $cauls } more for the cauls of the second glue-up. Glue for all of it: { $glue }.
stock-grits = Abrasives, grits { $grits }; { $oil } of { $product }.
stock-scrap = To try handholds on, before the board: scrap { $thick } thick, { $long } long, at least { $high } high, any sound wood, glued up flat if you have none so thick, made when the board is trimmed and as thick as it then is; it is not in the amounts above.
stock-feet = Four feet for holes { $across } across and { $depth } deep, with what fastens them.
stock-besides = The sheets also ask for: cauls, a straight rail, drill bits; a drum sander or a router sled, or hand plane and winding sticks; at the router table a foot or knee switch and a tall fence.
machine-jointer = jointer
machine-planer = planer
rip-to-line = Blank { $letter }, before it is milled to width: rip { $near } off at the near end and { $far } at the far end, measured on { $face } from { $side }, so that its { $line } line runs out at the corner. Then rip the other side parallel: { $left } is left.
rip-side-marked = the marked corner's side
rip-side-opposite = the side opposite the marked corner
rip-face-marked = the marked corner's face
rip-face-opposite = the face opposite the marked corner

# Thickness, step by step
thickness-title = Thickness, step by step
thickness-about = What each step takes and what it leaves. A panel's thickness times its strips is the board's length: whatever is planed off a panel costs length. The last column is for what you measure.
thickness-decides = Blank { $letter } is the thinnest here, and decides.
thickness-step = step
thickness-takes = takes
thickness-passes = passes
thickness-leaves = leaves
thickness-measured = measured
thickness-not-through = too large for that machine
thickness-other-way = What is too large for a machine is flattened with a hand plane and winding sticks, or with the router on a sled; a panel may also be glued in two parts that fit, planed alike, and joined with their faces flush. Common practice, no source.
thickness-a-pass = { $count ->
    [one] { $count } strip of it is laid: one full pass of the planer, { $pass }, costs the board { $length } of length.
   *[other] { $count } strips of it are laid: one full pass of the planer, { $pass }, costs the board { $length } of length.
}
thickness-may-be-planed = May still be planed off this panel, the length kept; below 0: short already
thickness-no-least = The plan asks for no least length, so nothing is kept back for it: whatever you plane off this panel more than planned, the board is shorter by, so many times over.
thickness-board = The board
thickness-length = Finished length, with all that
thickness-least = Least length that the plan asks for
thickness-spare = To spare; below 0: short
stage-rough = rough
stage-one-face-jointed--the-other-planed = one face jointed, the other planed
stage-panel-s-lower-face-planed = panel's lower face planed
stage-panel-s-upper-face-planed = panel's upper face planed
stage-strips-as-cut--glued = strips as cut, glued
stage-lower-face-flattened = lower face flattened
stage-upper-face-flattened = upper face flattened
stage-both-faces-sanded = both faces sanded

# Both ends
ends-title = Panel { $panel }: both ends, lettered
ends-about = Lay the blanks as drawn, upper face up, rings and sapwood as in the picture. The dot is the marked corner of a blank's own near end; where a blank shows no dot at an end, its far end is there.
ends-near = Standing at the near end, looking along the panel
ends-far = Standing at the far end, looking back
ends-above = From above: the upper face
ends-triangle = Draw the witness triangle across the upper face before gluing, its point toward the far end: it shows order and ends until the face is planed.
ends-how = How each blank lies
ends-place = place
ends-lies = how it lies
ends-begins = begins, from the near end, at
ends-turns = Places count from the first blank: at your right hand as you stand at the near end. As laid: the marked corner low on the right at the near end. From there: rolled over, turned about its length; end for end, turned with the same face up; end over end, turned with the other face up.
ends-quarter-roll = A quarter roll comes first: about the blank's length, clockwise as you see it from the near end.
quarter-roll = quarter roll
quarter-roll-then = quarter roll, then { $turn }
turn-as-laid = as laid
turn-as-cut = as cut
turn-rolled-over = rolled over
turn-end-for-end = end for end
turn-end-over-end = end over end

# Glue-ups
glue-first-title = Panel { $panel }: first glue-up
glue-second-title = Second glue-up: the board
glue-lines = { $count ->
    [one] One glue line.
   *[other] { $count } glue lines.
}
glue-lines-area = { $count ->
    [one] One glue line: { $area }.
   *[other] { $count } glue lines, { $area } in all. Clamps act in a row: the largest, { $largest }, sets the force, not the sum.
}
glue-quantity = Glue in all, on one face of every joint
glue-clamps = Clamps, above and below by turns, at least
glue-clamp-spacing = From clamp to clamp, evenly; what is over, half at each end
glue-force = Force of all clamps together
glue-force-each = Force of each clamp
glue-working = Working time, first glue to last clamp; the label governs
glue-slips = Strips that slip as far as the plan says cost { $trim } of the front and the back trim each; what stands proud costs { $flatten } of the flattening.
goes-blanks = blanks { $which }, by place
goes-strips = strips { $which } from the left
glue-side-grain = Every glue face here is side grain against side grain: the end grain looks up and down, at no joint.
glue-too-wide = This panel is { $wide } wide, your planer takes { $widest }. Glue it in two parts that both go through, plane them alike, then glue the two with their faces flush; or glue it whole and flatten it with a hand plane and winding sticks, or with the router on a sled.
glue-dry = Dry fit. Compare order and ends with the triangle. Near ends flush against one stop. Joints close by hand.
glue-dry-slipped = Dry fit. Compare order and ends with the triangle. Near ends flush against one stop; the list of the ends says which blank begins farther in, and where. Joints close by hand.
glue-spread = Spread glue on one face of each joint, evenly, edge to edge.
glue-clamp = Clamp from the middle outward, above and below by turns, clean scrap under the jaws, until a thin bead comes out all along.
glue-scrape = When the squeeze-out is like rubber, scrape it off.
glue-after = Panel { $panel }: after the glue has cured
glue-trued-first = True off the first blank's outer edge
glue-trued-last = True off the last blank's outer edge
glue-planed-lower = Plane off the lower face
glue-planed-upper = Plane off the upper face
glue-panel-thick = Panel then: thick
glue-panel-wide = Panel then: wide
glue-edges-first = As glued the panel is as wide as the planer takes, or wider. First, by hand plane or sled, flatten one face enough to bear on.
glue-edges-check = At the end check that the first blank's edge is still square to both faces.
glue-flatten-face = Flatten one face on the jointer.
glue-flatten-wide = The panel is wider than your jointer takes ({ $widest }): flatten one face with a hand plane and winding sticks, or with the router on a sled; or let the planer do it, the panel on a flat board, wedged so that it neither rocks nor slides.
glue-plane-other = Plane the other face parallel to it. Where your planer digs in at the ends, waste as thick before and behind.
glue-against-grain = Grain rises both ways here: light passes, sharp knives.
glue-plane-wide = The panel is wider than your planer takes: bring the other face parallel the same way, with gauge lines on all four edges.
glue-joint-edge = Joint one long edge straight and square to the flat face, taking what is said below.
glue-rip-edge = Rip the other long edge parallel to it, to the width below.
glue-rail = Screw a straight waxed rail to the bench, its top above the clamps and cauls underneath and below the strips' upper faces: every strip's front end, the one toward you in the lay-up picture, stands against it.
glue-cauls = Wax the cauls, straight, a hand longer than what the go joins (all strips: { $long }). Across the joints, one above and one below, a clamp at each of their ends: pairs here { $pairs } (common practice, no source), clamps { $clamps }
glue-rail-slid = A strip that is slid stands off the rail: put a spacer there, as long as the lay-up sheet says.
glue-dry-strips = Dry fit all strips by the lay-up sheet; compare the slanted lines on both edges. Pencil one straight line across all strips: one that slips breaks it.
glue-goes = More joints than fit the working time ({ $working }): glue in { $count } goes, in this order, each with all the steps below. What a later go joins comes out of its clamps first.
go-alone = In one go: { $members }; { $count ->
    [one] one joint
   *[other] { $count } joints
}, { $takes }, { $glue } of glue.
go-of-several = Go { $go }: { $members }; { $count ->
    [one] one joint
   *[other] { $count } joints
}, { $takes }, { $glue } of glue.
glue-lay = Lay the strips from left to right, each with its front end against the rail.
clock-off = Clamps off from (+{ $after })
clock-glue-on = Glue on at
clock-clamped = Last clamp on by (+{ $after })
clock-plane = Plane from (+{ $after })
clock-flatten = Flatten, sand from (+{ $after })
measure-panel = Measured: the panel's thickness, mean of four corners
measure-panel-hangs = Planned: { $thick }; the glued board is then { $long } long. For every { $mark } thicker or thinner it is { $more } longer or shorter.
measure-panel-share = Planned: { $thick }; this panel's share of the glued board's length is then { $long }. For every { $mark } thicker or thinner the board is { $more } longer or shorter.
measure-length = Measured: the glued board's length
measure-length-hangs = Planned: { $length }. So much more or less, and the finished board is so much longer or shorter.

# Saw
saw-title = Panel { $panel } on the saw
saw-counted = Cut and counted: { $count } strips, { $width } wide.
saw-mark = Mark the panel: one slanted line on the first blank's edge, two side by side on the last blank's, each from the lower face at the near end up to the upper face at the far end.
saw-which-face = The witness triangle is planed off. Hold the near end against its picture on the sheet of both ends: letters in the same order and dots in the same places, and the upper face is up.
saw-lay = Lay the panel on the sled: upper face up, the first blank's edge against the sled's fence, the near end toward the stop.
saw-square = Square the near end. Lost there before the first strip, this cut's kerf included: { $lost }
saw-waste-block = Fix the waste block to the far end, so that the last cuts leave enough to hold: as thick as the panel, { $block } long along the panel's length, about as wide; double-sided tape or glue, never a screw in the blade's way. Where the blanks don't end flush, square the far end first: take off no more than makes it square.
saw-stop = Set the stop on the sled as drawn, plug pulled, by a rule or a block, to a tooth of the standing blade. One that leans toward the stop is the near tooth; one that leans away from it, toward the panel, the far one: strip and your kerf together. Both ways give the same strip; mixed up, every strip is wrong by a kerf.
saw-stop-near = Stop, as planned, to the near tooth: the strip alone
saw-stop-far = Stop, as planned, to the far tooth: strip and kerf
saw-width = Strips then, as planned
saw-safe-stop-near = Largest safe stop, to the near tooth
saw-safe-stop-far = Largest safe stop, to the far tooth
templates-stop-near = Saw, panel { $panel }: stop to the near tooth
templates-stop-far = Saw, panel { $panel }: stop to the far tooth
saw-drawn = From above, not to scale, the fence on your side. Where your fence lies beyond the panel, turn the sheet round: then you stand at what is now the top, and stop and near end are at your right hand.
saw-drawn-fence = sled's fence: first blank's edge
saw-drawn-stop = stop
saw-drawn-strip = strip
saw-drawn-panel = panel, upper face up
saw-drawn-blade = blade
saw-drawn-waste = waste
saw-drawn-near = to the near tooth: the strip
saw-drawn-far = to the far tooth: strip and kerf
saw-drawn-you = you stand here, beside the line of the blade
saw-safe-says = Largest safe stop: farther, and the chance of a narrow last strip is over { $limit }, the plan's limit. Near or far tooth as above. The widest strips of the other counts, listed last, leave nothing for that.
saw-kerf = Kerf: yours, if it differs, changes the far figure by as much
saw-chance = Chance that the last strip comes out narrow
saw-brush = Brush the stop clean before every cut: a chip there makes the next strip narrow.
saw-cut = Cut { $count } strips, { $width } wide, in { $cuts } cuts.
saw-cut-three = Cut three strips, { $width } wide.
saw-cut-others = Then cut the other { $left }, numbering on: { $count } strips in all, in { $cuts } cuts.
saw-number = Number each strip as it comes off, on the cut face toward the panel's far end, the number's foot toward the panel's lower face.
saw-number-panel = Write the panel's letter before the number: { $panel } 1, { $panel } 2. The lay-up sheet calls the strips so.
saw-alike = These strips lie between those of the panels cut before: measure three of those, cut after the stop was last moved, and set the stop for the same width, even where it is not the planned one: what three of them measure together stands for the planned figure at the third strip. Strips of unlike width step from one to the next, and the flattening has to take it.
saw-last-left = The last strip is what is left after the last kerf.
saw-last-freed = The last of these cuts frees the last strip.
saw-held-down = Panel and strip are held under a clamped hold-down at every cut. Nothing shorter than { $least } is cut.
saw-held-by-hand = The panel is held by hand on the sled at every cut. Nothing shorter than { $least } is cut.
measure-third = Measured: the first three strips, pushed together
measure-third-hangs = Planned: { $planned }. First: about { $mixed } means that the two teeth were mixed up: { $then } Otherwise: up to { $stack } all strips come out with the stop as it is; a third of what your stack is over is what each is wider, and the board thicker. Over { $stack }: measure what is left of the panel from its cut end, without the waste block, take { $lost } off, divide by { $left }: no strip to come may be wider; bring the stop in by as much as a third of your stack is more than that. Less than planned: leave the stop, all strips so narrow, and the board gets thinner by as much; set it farther out only to cut these three again: the narrowest strip makes the board.
third-mixed-leave = then leave the stop, all strips so wide, the board a kerf thicker.
third-mixed-anew = then set the stop anew and trim these three to width.
saw-starts = From the squared end to where each strip begins
saw-counts = Other counts from panel { $panel }
saw-count = strips
saw-count-length = board long
saw-count-length-alone = board of it alone, long
saw-count-widest = widest strip
saw-count-thick = board thick
saw-count-remains = remains
saw-count-waste = waste
saw-count-safe = cuts held
saw-counts-say = Widest strip: uses all of the panel. Remains: at the planned width; below 0, so many don't fit. Waste, of the panel's length: kerfs, both ends, what remains. Cuts held: of the widest strips, before the piece is too short.
saw-counts-alone = Board of it alone: as long as a board of this panel's strips alone would be; the whole board has those of the other panels too.

# Lay-up
layup-title = Lay-up: the show face up
layup-about = Seen from above, standing at the front. Over each strip stands its number from the saw, on it how it is turned.
layup-drawn = The strips as they lie on the bench, nothing trimmed yet. Dashed: where the board is trimmed once it is glued.
layup-lay = Lay the strips from left to right as drawn, each turned as written on it.
layup-compare = Compare the slanted lines on the back and front edges with the picture. Near the middle of a slanted line two turns look alike: there only the number on the cut face tells.
layup-edge-back = Back edge, folded out: turn the sheet round to see it as it looks from the back
layup-edge-front = Front edge, seen from the front
layup-list = Place by place, from the left
layup-cell = { $place }:  strip { $strip }, { $turn }
layup-list-staggered = Last, how far the strip is slid toward the back.
layup-turns = As cut: the cut face nearer the panel's far end is up, the first blank is at the back. From there: rolled over, about the strip's long axis; end for end, standing, the same face up; end over end, about the board's length. The number on the far cut face is up as cut and end for end, underneath when rolled over and end over end.
edge-front = front
edge-back = back
edge-left = left
edge-right = right
side-front = front
side-back = back
side-left = left
side-right = right
end-front = front
end-back = back
end-left = left
end-right = right
corner-front = front
corner-back = back
corner-left = left
corner-right = right
face-upper = upper
face-lower = lower

# Flattening and squaring
flatten-title = Flatten the board
flatten-check = Write front, back, left and right on the edges, and an arrow toward the show face; carry them over as soon as an edge is cut. On a flat table, feel for rock at the four corners. Flatten one face, then the other parallel, before the edges are trimmed: light passes with a drum sander, or with a router sled on level rails, the board wedged so that it neither rocks nor slides, from the rim inward. Take off what is said below, until both faces are flat: a board whose strips came out wider stays thicker by as much.
flatten-glued = As glued: thick
flatten-upper = Take off the upper face
flatten-lower = Take off the lower face
flatten-thick = Board then: thick
flatten-sanded = Later, sanded: thick
measure-board = Measured: the board's thickness
measure-board-hangs = Planned: { $flattened }, and { $thickness } once sanded.
measure-board-handholds = Planned: { $flattened }, and { $thickness } once sanded. It goes into the box on each handhold's sheet, which says what hangs on it.
square-title = Square up
square-first = Trim one long edge straight on the sled or against a straight carrier, then the ends square to it on the sled, then the other edge parallel along the fence. What is taken off at each, the kerf in it, is below.
square-glued-length = As glued: long
square-glued-width = As glued: wide
square-left = Trim off the left end
square-right = Trim off the right end
square-front = Trim off the front edge
square-back = Trim off the back edge
square-length = Board then: long
square-width = Board then: wide
square-narrowest = The narrowest outer strip or blank that the trims leave: { $narrowest }.
measure-square-length = Measured: length, left to right
measure-square-width = Measured: width, front to back
measure-square-hangs = Stops for handholds and cuts are set for the board as planned: what is more or less goes into the plan, or onto the stops as their sheets say.

# Handholds
handhold-title = Handhold in the { $edge } edge
measure-edge = Measured: this edge, trimmed
measure-edge-hangs = Planned: { $planned }. So much longer: set both blocks so much farther from the bit. So much shorter: so much nearer. The recess gets longer or shorter by as much.
measure-thick-fence = Planned: { $planned }. Half of what it is thicker: every place of the fence so much farther from the bit{ $bored }, both lips so much thicker. Half of what it is thinner: so much nearer, and thinner.
measure-thick-by-hand = Planned: { $planned }. Half of what it is thicker: the bit’s centre so much farther from the lower face at every place{ $bored }, both lips so much thicker. Half of what it is thinner: so much nearer, and thinner.
measure-thick-bored = , the bored hole too
handhold-bit = Bit: { $bit }, { $across } across, corner radius { $corner }.
handhold-bit-centre = It goes straight down into the wood: it must cut at its centre, as the plan says it does. Look before you lower anything onto it.
handhold-depth = Recess: deep
handhold-width = Recess: wide
handhold-length = Recess: long
handhold-opening = With its eased rim: wide
handhold-lip-above = Lip above it
handhold-lip-below = Lip below it
handhold-lips-say = Lips: of the finished board beside the recess, its own eased rim already off where it has one, the board's rims not; rounded down where they are no whole mark.
handhold-rim = Rim, when the recess is done: { $easing } of { $size }. The edge is narrow for a router: board upright between two squared boards, their edges level with its own, so that the base cannot tilt; a bearing narrower than the recess along its wall, clockwise as you look into the recess, in light passes. Else by hand with file and paper.
handhold-rim-by-hand = Rim, when the recess is done: { $easing } of { $size }, by hand with file and paper: too little upright wall is left below it for a bearing.
handhold-bore = Router unplugged. First in the scrap, then in the board: at the start of the recess bore a hole into the edge, { $across } across, { $depth } deep at its full width (the point leaves its mark in the floor), its middle { $along } from the { $end } corner and { $up } from the lower face as it is now. Held upright and firm, a brad-point or Forstner bit, a stop on the drill. Look at the router bit: the hole must be wider than what does not cut in its middle.
easing-round-over = round-over
easing-chamfer = chamfer
table-title = On the router table
table-set = Router unplugged. You stand in front, the fence lies beyond the bit. Raise the bit to its last height. Set fence and stop blocks by it, clamp them, pull at them; table and fence reach { $long } from block to block, and the blocks on top; then lower the bit to its first height. Nearer edge: the bit's cutting edge turned toward block or fence, at the table's surface, with the bit raised to its last height.
table-what = set, from the bit
table-from-centre = from its centre
table-from-nearer = from its nearer edge
table-right-stop = Right-hand block (starting stop)
table-left-stop = Left-hand block
table-fence = Fence: set it to this now
table-height = Bit's height, pass { $pass }
table-marks = Pencil two marks on the table, or on tape on it, in front of the board, in line with the bit's two edges, and two on the board's show face: { $first } from its { $left } corner and { $second } from its { $right } corner. The recess runs from mark to mark. A feather board before the bit, on its right, presses the board to the fence.
table-scrap = Try it on scrap as thick as the board is now, its edge as long, at least { $high } high{ $bored }: never a loose strip. All passes, just as in the steps below, foot switch and all; then measure, lips as the box of the thickness changes them: lip below { $below }, lip above { $above } at both ends of the recess; its ends { $first } and { $second } from the corners; deep { $deep }. A lip below that is too thick by some amount: the fence so much nearer to the bit; too thin: so much farther. Then try again, on fresh scrap.
table-scrap-places = Try it on scrap as thick as the board is now, its edge as long, at least { $high } high{ $bored }: never a loose strip. All heights at all places, just as in the steps below, foot switch and all; then measure, lips as the box of the thickness changes them: lip below { $below }, lip above { $above } at both ends of the recess; its ends { $first } and { $second } from the corners; deep { $deep }. Place A makes the lip below: too thick, the fence so much nearer to the bit; { $last } the lip above: too thick, the fence so much farther. Then try again, on fresh scrap.
table-scrap-bored = , bored like the board
table-reset = After the scrap, for the board: unplug, the bit back to its first height, both blocks checked.
table-reset-places = After the scrap, for the board: unplug, the bit back to its first height, the fence back to A, both blocks checked.
table-lower = Board on its { $edge } edge, lower face against the fence, show face toward you; its { $left } end is then at your left hand. The board's { $right } end, at your right hand, against the starting stop; its { $left } end raised. Hands on the upper edge, at the two ends, high above the bit. Router on. Lower the board onto the bit.
table-feed = Feed from right to left, never back, to the left-hand block.
table-off = At the left-hand block hold still, both hands on the board, switch off by foot or knee, wait until the bit stands, lift. To stop earlier: the same; never lift a board off a turning bit.
table-next = Unplug, raise the bit for the next pass, begin again at the starting stop.
table-wider = All heights cut at A: unplug, lower the bit to its first height, move the fence to the next place, measured at both its ends from the table's edge so that it stays parallel, or by a spacer; the feather board after it; check both blocks' distances from the bit again; then all heights again. Where two places meet, { $cusp } is left standing at the recess's two ends: sand it off.
table-ridge = The bit's end is round: where two places meet a ridge of { $ridge } is left along the whole floor: scrape it off.
table-over-cut = Lowering by pivoting cuts the recess's start longer by { $over } at most; lowered level, by nothing.
table-places = This recess is wider than the bit: the fence stands at places A to { $last }, one after another, farther from the bit each time. First all heights with the fence at A. The blocks stay as they are.
table-fence-place = Fence, place { $place }
drawn-fence = tall auxiliary fence
drawn-starting-stop = starting stop (right-hand block)
drawn-left-block = left-hand block: the cut ends
drawn-hand = hand
drawn-feed = feed
drawn-you = you stand here
drawn-pass = pass { $pass }:
drawn-datum = datum
drawn-clamp = clamp
drawn-above = From above, to scale. Full: the board as the cut begins; dashed: as it ends. Upper figures: from the bit's centre; lower: from its nearer edges at the table, the bit at its last height.
drawn-above-moved = From above, to scale. Full: the board as the cut begins, the fence at A; dashed: the board as the cut ends, and where the fence is moved to. Upper figures: from the bit's centre; lower: from its nearer edges at the table, the bit at its last height.
drawn-waste = waste
drawn-across = Across the feed, at full size, seen from your left: fence, board, the bit in each pass. The fence's distance is that for the board as it is now.
drawn-across-moved = Across the feed, at full size, seen from your left: fence, board, the bit in each pass. Full: with the fence at A; dashed: where the bit is in the board with the fence at { $last }, at its last height.
drawn-cnc = To scale, seen from above, X to the right. Pale: what is cut. Ring with arrows: the datum.
drawn-cnc-level = To scale, seen from above, X to the right. All of the face is cut, round and round from the rim inward (dashed), its edges coming into the wood from outside. Ring with arrows: the datum.
drawn-edge = Seen along the edge from the datum's end, Y to the left, all at one scale, the bit at its deepest. Dashed: as high as the tip can be raised. With the spindle standing, move it by hand over the whole cut and look whether anything of it comes near jaws or screws.
drawn-edge-no-spindle-known = Seen along the edge from the datum's end, Y to the left, all at one scale, the bit at its deepest. Dashed: as high as the tip can be raised, and the spindle, whose sizes the plan doesn't give. With the spindle standing, move it by hand over the whole cut and look whether anything of it comes near jaws or screws.
drawn-edge-clear = as high as the tip can be raised: { $far }
drawn-edge-spindle = spindle's body, { $wide } wide
drawn-edge-no-spindle = spindle: not given, so not checked
drawn-edge-nut = nut, { $wide } wide
drawn-edge-nut-high = nut, { $wide } wide, { $high } below the spindle
drawn-edge-no-nut = nut: no width given, so not checked
drawn-edge-bit = bit, { $out } out of the nut
drawn-edge-bit-least = bit, at least { $out } out of the nut
drawn-edge-deepest = deepest: { $deep } below the edge
drawn-edge-jaw = clamp: the edge stands { $far } out of it
drawn-edge-jaw-above = clamp, up to { $far } above the edge
drawn-edge-no-jaw = vertical clamp: the plan gives no place
drawn-edge-stands = what its other edge stands on
plunge-title = With the plunge router
plunge-set = Not on the router table: this edge is too short, or the board too low on it, to be lowered onto a turning bit. Clamp the board upright between two squared boards, upper edges level with its own, a stop for the router at each end.
plunge-stop = Bit's centre stops, from the { $end } corner
plunge-across = Bit's centre, from the lower face as it is now
plunge-depth = Depth, pass { $pass }
plunge-places = This recess is wider than the bit: its centre runs at places A to { $last } one after another. First all depths at A, then all depths at the next place.
plunge-across-place = Bit's centre, place { $place }, from the lower face as it is now
cnc-title = On the CNC instead
cnc-program = On the CNC instead: { $file }. How to set it up: see the CNC sheets.
cnc-no-program = No program for the CNC: see what wants care on the first sheet.
cnc-levelling = On the CNC instead, the { $face } face: { $file }. How to set it up: the sheet “CNC: { $file }”.
cnc-no-levelling = No program for the CNC for the { $face } face: see what wants care on the first sheet.

# Set-ups of the CNC
cnc-sheet-title = CNC: { $file }
cnc-sheet-says = X runs to your right, Y away from you, Z up, as the programs have them. Front, back, left and right are those of the board with its show face up. The sheets follow in the order of the shop. Stock that measures otherwise than on its sheet: into the plan with it, and the programs made anew.
cnc-sanded = This program reckons with the board's faces sanded: sand them first, all but the last grit, or the cut lies off by what is still on.
cnc-heading = What it cuts: { $cuts }.
cnc-part = { $cut }:
cnc-level = { $face } face levelled
cnc-panel = panel { $panel }, { $face } face levelled
cnc-outline = outline, down to its tabs
cnc-between = between the tabs, right through
cnc-rim = { $easing } of the { $face } rim
cnc-stock-x = Stock along X
cnc-stock-y = Stock along Y
cnc-stock-z = It stands high
cnc-safe = Rapids only at or above
cnc-lies-edge = Board on edge in a vertical clamp, its { $edge } edge up and level (check along and across with a square): lower face toward you, show face away.
cnc-lies-flat = Board flat on a level spoil board, { $face } face up, its { $near } edge toward you, its left end at your left.
cnc-lies-panel-upper = Panel { $panel } as glued, flat on a level spoil board, upper face up: its near end at your left, the first blank's edge toward you. Shim it, so that it doesn't rock.
cnc-lies-panel-lower = Panel { $panel } as glued, flat on a level spoil board, lower face up: its near end at your left, the last blank's edge toward you. Shim it, so that it doesn't rock.
cnc-datum-edge = X0 at this edge's { $end } end, Y0 at the lower face, Z0 on the edge.
cnc-datum-flat = X0 at the left end, Y0 at the edge toward you, Z0 on the face that is up.
cnc-datum-panel = X0 at the near end, Y0 at the edge toward you, Z0 on the face that is up.
cnc-datum-highest = Z0 at its highest place: find that with a straightedge, or touch at several.
cnc-datum-as-glued = The board is still as glued: its rough corner is the datum, no trim is made before.
cnc-datum-pins = To find it again: stop pins (rings), lower than the cut is deep there, that touch the edge toward you at X { $first } and X { $second } and the left end at Y { $end }. Turn it over from front to back: the left end comes to the same pin.
cnc-datum-again = To find it again after any move: the same corner, the same face, X, Y and Z touched anew.
cnc-held-edge = Hatched: the clamps that the plan gives; bit, nut and spindle keep clear of them, as far as the plan gives their sizes. No other in the bit's way.
cnc-clamps = Clamps and stops as the plan gives them, from the datum ({ $unit }; Z at their tops): { $places }.
cnc-held-level = Clamps at its sides alone, each ending below what is cut. The bit goes down and turns outside the wood: leave { $free } free all round.
cnc-held-outline = The frame of waste screwed or clamped down, never the board alone: it is { $frame } wide at its narrowest. The spoil board may be cut into. Pale: down to the tabs; dark: right through between them.
cnc-held-outline-below = Board and frame held from below (double-sided tape, vacuum): the frame of waste, { $frame } wide at its narrowest, is too narrow to screw or clamp. The spoil board may be cut into. Pale: down to the tabs; dark: right through between them.
cnc-held-rim = Held from below (double-sided tape, vacuum), or by stops lower than the rim is deep; nothing on the face. Leave { $free } free all round; the bit goes down beside the edge toward you.
cnc-held-face = Clamps farther from what is cut than bit, nut and spindle reach, none in the way of a rapid.
cnc-held-face-open = Clamps farther from what is cut than bit, nut and spindle reach, none in the way of a rapid. Where the cut opens at an edge: a strip of waste at least { $free } wide, level with the face, clamped or taped tight against it (hatched).
cnc-bit = Bit { $place }: { $bit }, { $across } across; its flutes cut { $reach } deep.
cnc-bit-straight = Straight.
cnc-bit-corner = Corner radius { $size }.
cnc-bit-round-over = Rounds over by { $size } without a bearing, its flat end { $end } wide.
cnc-bit-chamfer = A cone at 45 degrees, { $size } of it, its flat end { $end } wide.
cnc-bit-out = Out of the collet's nut at least { $least }.
cnc-bit-out-set = Out of the collet's nut { $out } ({ $least } at least).
cnc-bit-change = The program stops for it: spindle standing and unplugged, change, Z0 touched anew at the same surface.
cnc-run = Spindle { $speed }, the bit's rim { $rim }. Feed { $feed }; going down { $ramp }, along a ramp or a helix where the bit does not cut at its centre. Chip load { $chip }, deepest pass { $pass }. It takes { $time } at most.
cnc-wall-pass = Along the walls { $takes } is left for a light last pass at each depth.
cnc-passes = { $count ->
    [one] One pass, to this depth below the surface:
   *[other] { $count } passes, each to this depth below the surface:
}
cnc-passes-some = { $count } passes to these depths below the surface: { $first }, { $second }, and so on evenly to { $before }, { $last }.

# Cuts on the faces
faces-title = Cuts on the faces, corners and rims
faces-turned = Left and right, front and back are those of the board with its show face up. Turn it over from front to back: left stays left.
faces-drawn = Drawn as it lies before you, to scale: pale, what is cut; dashed, the way of the bit's centre; hatched, blocks of scrap; the arrow, the feed. Places are those of the bit's centre.
faces-measures = Is the board not quite as planned: what is measured from an edge or a corner stays, the way between grows or shrinks; the pivot of an arc stays in the middle between the cut's two ends.
cut-groove = Juice groove on the { $face } face
cut-spout = Spout to the { $edge }
cut-finger-recess = Finger recess under the { $edge } edge
cut-feet = Four holes for feet
cut-hanging-hole = Hanging hole near the { $edge } edge
cut-with = Plunge router, bit: { $bit }. Cut from the { $face } face.
cut-with-centre = Plunge router, bit: { $bit }, which must cut at its centre, as the plan says it does. Cut from the { $face } face.
cut-bit-diameter = Bit across
cut-depth = Depth
cut-width = Width at the face
cut-setback = From the edge to the groove's nearer rim
cut-fence = From the edge to the bit's centre
cut-fence-ends = From the edge to the bit's centre, at both ends
cut-corner-radius = Corners of the bit's way: radius
cut-along = The middle of the cut, from the { $end } end of the edge
cut-travel = Bit's centre travels, straight
cut-arc = Radius of the arc of the bit's centre
cut-pivot-out = That arc's pivot: outside the edge
cut-pivot-along = That arc's pivot: from the { $end } end
cut-setback-left = The cut ends, from the left corner
cut-setback-right = The cut ends, from the right corner
cut-setback-front = The cut ends, from the front corner
cut-setback-back = The cut ends, from the back corner
cut-from-end = From the left and right edges
cut-from-side = From the front and back edges
cut-from-edge = From the edge to its middle
cut-drill = Drill from the { $face } face, the board clamped, with a brad-point or Forstner bit { $across } across, in a drill press or with a guide. (The plan names the router bit { $bit }: only if it cuts at its centre.)
cut-drill-plunged = Drill from the { $face } face, the board clamped, with a brad-point or Forstner bit { $across } across, in a drill press or with a guide. (The plan names the router bit { $bit }, as wide as the hole: only if it cuts at its centre, and so on the CNC, where it goes straight down.)
cut-through = Right through, onto a backing board clamped underneath: it keeps the far face from breaking out. On the CNC a little into the spoil board.
cut-depth-now = Depth to set now, from the unsanded face
cut-depth-sanded = Depth once the face is sanded
cut-middle-in = From the edge to the bit's centre, in the middle
cut-bit-left = Bit's centre, from the left corner
cut-bit-right = Bit's centre, from the right corner
cut-bit-front = Bit's centre, from the front corner
cut-bit-back = Bit's centre, from the back corner
cut-way-long = Bit's way, left to right: long
cut-way-wide = Bit's way, front to back: wide
cut-reach-in = On the face it reaches in from the edge
cut-reach-in-middle = In its middle it reaches in
cut-stands = Stands on the face between edge and recess
cut-feed-groove = In a frame: clockwise, seen from above. An edge guide makes the straights alone: anticlockwise, a stop for it at each end.
cut-feed-spout = From the groove out to the edge, a straight guide at the left of the way; a block of scrap without metal in it clamped flush against the edge (hatched): nothing breaks out there, and the bit runs out into it.
cut-feed-open = An open recess: the bit's centre runs so near the edge that the cut is open to the side. Feed with the board at the left of the way (arrow), a straight guide or a frame there too, a stop for the router's base at each end. A block of scrap without metal in it clamped against the edge, its top flush with the face (hatched): it carries the base, backs up the fibres, and is cut into.
cut-feed-closed = A closed slot: wood stands between it and the edge. A frame or guides on both sides, a stop for the base at each end; fed back and forth in light passes, the guide at the left of the way. A block clamped against the edge, its top flush with the face, carries the base.
cut-arched = Its middle lies farther in than its ends. The bit's centre runs on an arc, back and forth in light passes between a stop for the base at each end: a strip of plywood on the router's base as a trammel, its pin at the pivot, from pin to bit's centre the radius below. The pivot lies outside the edge: on scrap as thick as the board, clamped against it.
cut-arched-open = It is open to the side: a block of scrap without metal in it against the edge, its top flush, is cut into.
cut-passes = Depths to set now, pass by pass ({ $count })
cut-frame = Frame for { $rides }: opening { $long } by { $wide }, corner radius { $corner }: the bit's way and { $offset } more on every side, half of what rides in it; with another base or bush another opening. Drawn at 1:1 in { $file }.
cut-frame-base = a round base { $across } across
cut-frame-bush = a guide bush { $across } across
cut-frame-outside = Its inner edges lie { $from } outside the board's edges: scrap as thick as the board all round, screwed down tight against it, and the frame screwed to that.
cut-frame-inside = Its inner edges lie { $from } in from the board's edges. Clamped or taped on it, so that it can't creep.
cut-bore = This bit does not cut at its centre: never straight down into solid wood, it burns and throws the router. Go down along a slant of the way, in the direction of the feed; or bore first, where it goes in, a hole { $across } across and { $depth } deep at most.
cut-rim-by-hand = Its rim, once the first grit has taken its share off the face: { $easing } of { $size }, by hand with file and paper: too little upright wall is left below it for a bearing.
cut-rim = Its rim, once the first grit has taken its share off the face: { $easing } of { $size }, the bearing along the wall, in light passes: in a groove, a slot or a recess always with the wall at the left of the way. The bearing must be narrower than the cut; where yours is not, by hand with file and paper.
outline-title = Corners and rims, last
outline-after = After the handholds: their stops are set from square corners.
outline-after-cnc = After the CNC's other programs too, on the sheets that follow: they find the board by its square corners.
outline-corners-cnc = The CNC's outline has rounded the corners already.
outline-do-corners = Round all four corners, seen from above: band saw or jigsaw close to the line, then sand or rout to it.
outline-do-rims = Ease the rims all round with a hand-held router, anticlockwise seen from above, light passes, the bit's bearing along the edge; the board held so that it can't slide. On a router table the bit turns the other way as you see it: there the board is fed from right to left, never along with the bit.
outline-do-rims-sanded = Ease the rims once the first grit has taken its share off the faces, else they end smaller: all round with a hand-held router, anticlockwise seen from above, light passes, the bit's bearing along the edge; the board held so that it can't slide. On a router table the bit turns the other way as you see it: there the board is fed from right to left, never along with the bit.
outline-interrupted = Where a finger recess or a spout opens the edge the bearing finds nothing to run on, and beside a handhold's thin lip a long one may drop in: stop before it, begin again behind it, and finish there by hand with file and paper.
outline-corners = Corners, seen from above: radius
outline-upper = Rim of the upper face: { $easing }
outline-lower = Rim of the lower face: { $easing }

# Finish
finish-title = Sanding and finish
sand-title = Sanding
sand-first = { $grit } grit, until every saw and router mark is gone. No later grit takes them out. At least { $removes } off each face.
sand-next = { $grit } grit, until the scratches of the one before are gone: at least { $removes } off each face.
sand-rims = By hand: now ease the rims, as the sheet of cuts, corners and rims says; then go on.
sand-cnc = Where you use the CNC: now its programs on the finished board, rims last; then go on.
sand-by-hand = { $grit } grit, by hand along one direction. Dust off.
sand-handholds = Handholds by hand, rims first, with the same grits.
sand-all = All grits together take at least { $all } off a face. The sizes on these sheets reckon with { $left }: the first grit goes on until that is nearly gone, or the board stays a little thicker. The depths follow from the grains' size and a third of it as scratch depth: our own choice, no source.
sand-wet = Wipe with a damp cloth and let it dry: the grain rises.
oil-title = Oil and wax
oil-product = Planned: { $product }. For both faces, all coats together:
product-mineral-oil = mineral oil
product-mineral-oil-and-wax = mineral oil and wax
product-hardening-oil = hardening oil
oil-least = At least
oil-most = At most: have so much at hand
oil-hardens = It hardens: let each coat dry as its label says, the last one until it smells of nothing, before food touches it.
oil-stays = Mineral oil does not harden: leave the board overnight, wipe off what stands on it, and it can be used.
oil-choose = Mineral oil sold for food contact, or another finish whose label says so. No kitchen oils: they turn rancid.
oil-coats = { $count ->
    [one] Flood the faces, wait a quarter of an hour or as the label says, wipe off: one coat. All sides alike.
   *[other] Flood the faces, wait a quarter of an hour or as the label says, wipe off; { $count } coats, overnight between, until it takes no more. All sides alike.
}
oil-wax = Wipe dry, then rub in oil with beeswax and polish.
oil-feet = After the last night: wipe off what stands on it, then fit the feet as their maker says; glue does not hold on oil.
# How it will move
moves-title = How it will move
moves-about = Wood swells in damp air and shrinks in dry air, across the grain: in this board along its length and its width. Along the grain, through its thickness, it hardly moves.
moves-season = season
moves-temperature = air
moves-humidity = humidity
moves-moisture = wood's moisture comes to
season-winter = winter
season-spring = spring
season-summer = summer
season-autumn = autumn
moves-assumed = The plan names no seasons. These are an assumption, no source: a heated house without a humidifier. Yours go into the plan's seasons.
moves-made = Made with the wood at { $made }; below 0 the board shrinks:
moves-to = to { $season }
moves-in-all = from one to the other
moves-length = length
moves-width = width
moves-drawn = Drawn on the board, the show face up
moves-drawn-says = Lines run the way in which a piece moves: the closer they lie, the more. In one blank that differs from strip to strip, as its rings turn along its length. Thick, with numbers: the glue lines below.
moves-disagree = Where neighbours disagree
moves-reading = At glue line 1 this { $wood } piece wants { $wants } more than its { $other } neighbour from { $dry } to { $damp }, were both free.
moves-reading-alike = At glue line 1 one { $wood } piece wants { $wants } more than its neighbour, whose rings lie another way, from { $dry } to { $damp }, were both free.
moves-alike = Neighbours move alike: at no glue line does one want { $least } more than the other.
moves-rank = glue line
moves-wants = wants more by
moves-over = along
moves-piece = this piece
moves-than = than this one
moves-named = { $wood } { $letter }, strip { $place }
moves-limit = Strips are counted from the left; the most is first. Over { $limit } it is a finding: so the plan's limit for movement says.
moves-unknown = No coefficient is published here for { $woods }: those pieces are left white.
moves-guessed = How the rings lie in some pieces is a guess: neither of their ends was described.
moves-limits = First order: what each piece would do were it free. No shear across rings that lie aslant, no stress from the neighbours, and the weeks that moisture takes to go in are left out. Coefficients are means over a species: one piece may be a fifth off.
moves-sources = By the Wood Handbook (FPL-GTR-282), equation 4-5 and chapter 13, and how the rings lie in each piece.

# Care card
care-title = Care card
care-woods = An end-grain board of { $woods }.
care-size = { $length } long, { $width } wide, { $thickness } thick; about { $mass }.
care-finish = Finished with { $product }.
care-maker = Made by
care-date = Date
care-wash = Wash it by hand and wipe it dry at once. Never in the dishwasher, never left in water.
care-dry = Let it dry standing on edge, air on both faces.
care-both = Wet both faces alike: one wet face makes a board cup.
care-oil = When it looks dry, oil it: mineral oil, all sides, wipe off after an hour.
care-moves = Wood moves with the seasons. A hairline in dry winter air closes again in summer; keep it away from ovens and radiators.
care-nuts = Should a nut oil be used on it, tell whom you feed: some people are allergic to nuts.

# What it cost and weighs
cost-title = What it cost and weighs
cost-title-no-money = What it took and weighs
weigh-says = The board weighs about { $mass }; { $volume } of wood; { $area } of surface.
weigh-seasons = In the driest season { $dry }, in the dampest { $damp }. A wood's density varies by a tenth and more.
cost-wood = Wood used
cost-wood-says = { $used } went into the panels at its true size, rough where the plan gives it rough; { $kept } of it is in the board. What the board and the losses take adds up to it.
cost-cubic = 1000 dm³ are a cubic metre.
cost-where = what
cost-how-much = how much
cost-went-in = went in
cost-went-to = where it went
cost-in-board = in the finished board
lost-milling = lost: milled off the blanks
lost-truing = lost: panel's edges trued
lost-planing = lost: planed off the panel
lost-ends = lost: panel's ends
lost-kerf = lost: saw kerf
lost-left-out = lost: strips left out
lost-flattening = lost: flattened and sanded
lost-trimming = lost: trimmed off the board
lost-cuts = lost: handholds, cuts, rims
cost-off-cut = Worth keeping: { $what }: { $wide } wide, { $thick } thick, { $long } long.
cost-more = { $count ->
    [one] And one more.
   *[other] And { $count } more.
}
left-strip = strip { $number } of panel { $name }
left-far-end = far end of panel { $name }
left-blank = blank { $name }
cost-time = Time at the bench
cost-stage = stage
cost-takes = takes
work-choose-and-letter = choose and letter
work-mill = mill
work-first-glue-up = first glue-up
work-flatten-and-square-the-panel = flatten and square the panel
work-crosscut = crosscut
work-lay-up = lay up
work-second-glue-up = second glue-up
work-flatten = flatten
work-trim = trim
work-handholds-and-cuts = handholds and cuts
work-sand = sand
work-finish = finish
work-all = All of it
cost-time-says = Hands-on time by the plan's pace (common practice, no source, where you gave none of your own); what glue and oil take by themselves is not in it.
cost-money = Money, by your rates
money-wood = wood, rough
money-glue = glue
money-finish = oil and wax
money-abrasives = abrasives
money-work = your hours
money-overhead = overhead
money-cost = cost, all of that
money-profit = profit
money-price = Price
cost-formula = Price = (wood + glue + oil and wax + abrasives + hours) × (1 + overhead) × (1 + profit). Wood by the board foot or cubic metre to buy, as the stock list says; oil by the most that the faces take. Your currency, your rates; no tax in it.
cost-rates = Your rates: the hour { $hour }, overhead { $overhead }, profit { $profit }.

# Every number
numbers-document-title = { $name }: every number
numbers-title = Every number, by its key
numbers-about = For looking up, not for the bench. report.json says of each what it is and where it comes from.

# Cautions
caution-unknown-wood = Off-cuts of unknown, painted, treated or pallet wood are not for food.
caution-jointer = Push blocks, guard over the knives, nothing shorter than the machine's manual allows.
caution-jointer-source = OSHA 29 CFR 1910.213 asks for guarded knives; the manual of your machine governs.
caution-planer = Nothing shorter or narrower than the planer's manual allows goes through it; stand beside the line of feed.
caution-kickback = Riving knife in, fence parallel, stand out of the line of the blade: a piece that binds is thrown back. Narrow pieces with push sticks, never with the hand beside the blade.
caution-kickback-source = OSHA 29 CFR 1910.213 asks for guards and against kickback; the manual of your saw governs.
caution-dust = Wood dust harms lungs and can cause cancer; some woods irritate skin. Extraction on, a mask that fits.
caution-dust-source = IARC Monographs 62 (1995) and 100C (2012): wood dust, group 1. NIOSH recommended limit: 1 mg/m³.
caution-mitre-and-fence = Mitre gauge and rip fence are never used together: the piece binds and is thrown back.
caution-loose-strip = The cut strip lies loose between stop and blade, and must not be jammed there: a flip stop turned up before the cut, or a stop block on the saw table that the panel leaves before it meets the blade. Hold the panel; the strip is kept by a hold-down or a stick, never by fingers, until the blade stands still; only then take it away.
caution-eyes-and-ears = Safety glasses and hearing protection, for you and for whoever stands by, at every machine from here on.
caution-at-the-saw = Eye and hearing protection on, extraction running, a mask that fits; nobody in line with the blade.
caution-short-piece = Stop after cut { $safe }: the piece is then too short to hold. A waste block of { $block } on the far end lets all cuts be made; or a clamped hold-down, or fewer strips.
caution-blade = Fingers stay off the line of the blade; small pieces are moved with a stick, and only with the blade stopped.
caution-blade-source = OSHA 29 CFR 1910.213 asks for guards and push sticks; the manual of your saw governs.
caution-glue = The label's words on open time, temperature, clamping time come first. Take glue that its label calls water-resistant or waterproof. Gloves; it sets on skin.
caution-end-grain-planer = End grain never goes through a thickness planer: it can shatter and be thrown.
caution-trim = Back up the trim where the blade leaves, or the last fibres break out. Board flat on the sled or along the fence, never both; hands wide, out of the line of the blade, riving knife in.
caution-starting-stop = The starting stop is low, 3/4 in (19 mm), its lower edge chamfered for chips: the raised board's upper corner swings into a high one. A tall auxiliary fence, { $high } high or more, carries the board.
caution-plunge-onto-bit = Hands at the two ends, never over the cut or behind it. If the board is pulled, let it come to the block; never drag it back.
caution-dead-centre = This bit does not cut at its centre. Lowered onto solid wood it burns and throws the board or the router. Use a bit that cuts at its centre, or bore a hole for it first.
caution-climb-cut = Never the other order, and never toward the bit: fed from right to left that is a climb cut, which pulls the board out of your hands.
caution-plunge-router = The board clamped so that it can't creep, the plug pulled before bit or depth is set. Let the bit stop before the router is lifted. Clamps clear of its base all along.
caution-face-cut = The board clamped so that it can't creep, clamps clear of the router's base; the plug pulled before bit or depth is set. Hand-held, seen from above: the bit turns clockwise and pulls the router to the left of its way. Inside a frame or an opening feed clockwise, around an outside edge anticlockwise; in the full width of a cut passes so light that frame or guide holds it. Each cut says which. Nobody lowers a closed groove onto a router table.
caution-foot-switch = A foot or knee switch is in place, and tried, before the router is switched on: both hands stay on the board. Without one don't begin. Should it fail: don't lift, hold the board still, and let a second person pull the plug; a hand leaves the board only where a hold-down holds it.
caution-feed-by-hand = The bit turns clockwise, seen from above, and pulls the router to the left of its way: a stop, a frame or a guide stands at the left. Inside an opening feed clockwise, around an outside edge anticlockwise. Light passes.
caution-corner-breaks = The upright corners break out where a bit leaves: back them up, light passes.
caution-cnc = The first run is well above the work, a hand at the stop. Clamps out of the bit's way. The machine's manual governs.
caution-cnc-dust = Eye and ear protection on, extraction running, sleeves and hair away from the spindle. Router bits throw chips and can break: nobody in line with them.
caution-cnc-level = A wide bit takes hold of a board that lies loose: no rocking, side clamps tight, light passes.
caution-cnc-outline = No clamp, screw or hand inside the frame while it runs. Saw or chisel the tabs with the spindle standing and unplugged.
caution-cnc-edge = A board on edge is tall: check that the spindle's side and its hose clear board and clamp all along, by hand, before the spindle turns.
caution-rags = Rags with linseed, tung or walnut oil can catch fire by themselves within hours: spread them flat to dry outdoors, or keep them under water in a closed metal can.
caution-rags-source = University and insurers' notes; the tip sheet of the NFPA. Mineral oil does not dry and does not heat.
caution-food = Food contact: follow the label of finish and glue. Hard, close-grained wood such as hard maple is what food codes name for cutting boards.
caution-food-source = FDA Food Code 4-101.17(B) for the wood; 21 CFR 172.878 and 178.3620 for white mineral oil. Neither approves this board.

wood-black-walnut = black walnut
wood-hard-maple = hard maple
wood-soft-maple = soft maple
wood-black-cherry = black cherry
wood-white-oak = white oak
wood-red-oak = red oak
wood-white-ash = white ash
wood-yellow-birch = yellow birch
wood-beech = beech
wood-hickory = hickory
wood-purpleheart = purpleheart
wood-padauk = padauk
wood-sapele = sapele
wood-teak = teak
wood-pecan = pecan
wood-elm = elm
wood-hackberry = hackberry
wood-sycamore = sycamore
wood-sweetgum = sweetgum
wood-red-alder = red alder
wood-butternut = butternut
wood-basswood = basswood
wood-yellow-poplar = yellow-poplar
wood-mahogany = mahogany
wood-african-mahogany = african mahogany
wood-jatoba = jatoba
wood-iroko = iroko

# Templates
templates-title = Templates at 1:1
templates-about = Print without scaling ("100 %", "actual size"), then measure both bars from outer edge to outer edge. Where they are off, the templates are too.
templates-bar-mm = This bar is 100 mm long.
templates-bar-in = This bar is 4 in long.
templates-stops = Lengths to check stops by
templates-right-block = Handhold, { $edge } edge: right-hand block from the bit's nearer edge
templates-left-block = Handhold, { $edge } edge: left-hand block from the bit's nearer edge
templates-times = { $what } (× { $count })
templates-too-long = { $what }: longer than this paper is wide; use a rule.
templates-stops-say = For checking a setup block or a stop at a glance: set by a rule or calipers, then hold the stop against the bar.
templates-corner = Corner, seen from above
templates-feet = Foot: the middle of its hole, from a corner of the lower face
templates-feet-say = Lay the printed corner on a corner of the lower face, each printed side along the edge that is named on it, and prick through. Turn the sheet over for the next corner.
templates-feet-long = along the front or back edge
templates-feet-short = along the left or right edge
template-sheet = Sheet { $number } of { $of }.
template-join = Sheets go from left to right, row by row. Cut one along its dashed line, lay it on the next so that the crosses meet, tape it; then measure over the joint.
template-block-says = Cut a block of hard scrap to this length and set the stop by it. Measure the block, not the paper: paper stretches.
template-stop-title = Set-up block for the saw's stop, panel { $panel }
template-blocks-title = Set-up blocks for the router table, { $edge } edge
template-table-title = Router table, { $edge } edge, from above
template-table-says = Router unplugged: lay it on the table with the cross under the bit's centre and bring fence and blocks to its lines; then measure all three with a rule. The fence's line is for the board as it is, not sanded yet.
template-strips-title = Strips of panel { $panel }
template-strips-says = Lay it along the panel's edge, its left end at the squared near end: each strip's beginning and end, the kerf filled between. To see where glue lines and knots fall; the stop sets the strips, not the paper.
template-corner-says = Lay the dashed corner on the board's and draw the arc. Turn the sheet over for the next corner.
