//! Which end of a blank a photograph shows, and how its corners run there.

/// An end of a blank.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum End {
    /// The end at station 0; its corners run clockwise.
    Near,
    /// The other end; its corners run anticlockwise.
    Far,
}

impl End {
    /// `near` or `far`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Near => "near",
            Self::Far => "far",
        }
    }

    /// The other end.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Near => Self::Far,
            Self::Far => Self::Near,
        }
    }

    /// How the order of the corners runs, seen by eye.
    #[must_use]
    pub const fn sense(self) -> &'static str {
        match self {
            Self::Near => "clockwise",
            Self::Far => "anticlockwise",
        }
    }

    /// Where the marked corner is with a wide face down.
    #[must_use]
    pub const fn marked_corner(self) -> &'static str {
        match self {
            Self::Near => "lower right",
            Self::Far => "lower left",
        }
    }

    /// The end with its corners numbered in their order, as a drawing of text: as one stands before it, a wide
    /// face down; `1` is the marked corner.
    ///
    /// ```
    /// use quarterturn_geometry::photo::End;
    /// assert!(End::Near.drawing().trim_end().ends_with("1 marked corner"));
    /// assert!(End::Far.drawing().contains("marked corner 1"));
    /// ```
    #[must_use]
    pub const fn drawing(self) -> &'static str {
        match self {
            Self::Near => {
                "  3 ┌───────────────┐ 4\n    │   near end    │\n    │   v up, u ◄   │\n  2 └───────────────┘ 1 marked corner\n"
            }
            Self::Far => {
                "                4 ┌───────────────┐ 3\n                  │    far end    │\n                  │   v up, u ►   │\n  \
                 marked corner 1 └───────────────┘ 2\n"
            }
        }
    }
}
