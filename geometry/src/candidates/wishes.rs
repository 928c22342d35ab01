//! What the maker asks for.

use crate::measure::Length;
use crate::search::{FacesCounted, Order, Weights};

/// What makes one lay-up better than another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Aim {
    /// The figure runs on across the glue lines.
    RunsOn,
    /// The board is its own mirror image about both centre lines.
    MirroredBothWays,
    /// Neighbours differ in lightness as much as they can.
    Contrast,
}

impl Aim {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::RunsOn, Self::MirroredBothWays, Self::Contrast];

    /// In plain words, as it is typed.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::RunsOn => "figure runs on",
            Self::MirroredBothWays => "mirrored both ways",
            Self::Contrast => "as much contrast as possible",
        }
    }
}

/// What each lay-up on the sheet is ranked by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Measured {
    /// The sum over the glue lines by [`Wishes::runs_on`], for each glue line. A sum: its best is proven.
    RunsOn,
    /// [`crate::search::whole::Looks::left_right`], of those shown.
    LeftToRight,
    /// [`crate::search::whole::Looks::front_back`].
    FrontToBack,
    /// [`crate::search::whole::Looks::evenness`].
    Evenness,
    /// [`crate::search::whole::Looks::misses`]: how nearly borders between light and dark close at the glue lines.
    Closes,
    /// The sum over the glue lines by [`crate::search::Weights::CONTRAST`], for each glue line. A sum: its best is proven.
    Contrast,
}

impl Measured {
    /// All of them, in the order in which they are shown.
    pub const ALL: [Self; 6] =
        [Self::RunsOn, Self::LeftToRight, Self::FrontToBack, Self::Closes, Self::Evenness, Self::Contrast];

    /// In plain words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::RunsOn => "runs on",
            Self::LeftToRight => "left/right",
            Self::FrontToBack => "front/back",
            Self::Evenness => "even",
            Self::Closes => "closes",
            Self::Contrast => "contrast",
        }
    }
}

/// How many strips are laid.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Using {
    /// All that there are.
    #[default]
    All,
    /// So many.
    Exactly(usize),
    /// The largest even number.
    Even,
}

/// How strips are slid along their neighbours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sliding {
    /// Each as far as the plan's own lay-up slides it; one that it doesn't lay isn't slid.
    AsPlanned,
    /// Every second one on the bench, the second first, so far toward the back; where that is 0, none.
    EverySecond(Length),
}

impl Sliding {
    /// No strip is slid.
    pub const FLUSH: Self = Self::EverySecond(Length::ZERO);
}

/// What the maker asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wishes {
    /// What counts, the weightiest first; none: all of them in turn.
    pub aims: Vec<Aim>,
    /// How much each measure of a glue line weighs where the figure is to run on.
    pub runs_on: Weights,
    /// Whether strips may change places: else they lie in the order in which they were cut, several panels taking turns.
    pub order: Order,
    /// How many are laid.
    pub using: Using,
    /// Strips that are lost: panel and number, from 0.
    pub gone: Vec<(usize, i64)>,
    /// Turns repeat every so many places (1 to 4); none: they needn't.
    pub repeat: Option<usize>,
    /// How strips are slid: all of these ways are tried. None: as planned, and, where the plan slides some, flush too.
    pub slides: Vec<Sliding>,
    /// How many lay-ups are shown.
    pub show: usize,
    /// Which faces count.
    pub faces: FacesCounted,
}

impl Default for Wishes {
    fn default() -> Self {
        Self {
            aims: Vec::new(),
            runs_on: Weights::RUNS_ON,
            order: Order::AsGiven,
            using: Using::All,
            gone: Vec::new(),
            repeat: None,
            slides: Vec::new(),
            show: Self::USUAL,
            faces: FacesCounted::Upper,
        }
    }
}

impl Wishes {
    /// How many lay-ups a sheet shows at least, unless there are not so many that look different.
    pub const FEWEST: usize = 12;
    /// How many it shows where nothing is said.
    pub const USUAL: usize = 24;
    /// How many it shows at most.
    pub const MOST: usize = 48;
    /// In how many ways strips are slid at most: each is a search of its own.
    pub const MOST_SLIDES: usize = 8;
}
