//! The two faces of the board.

/// Which face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Face {
    /// The show face.
    Upper,
    /// The other one, as seen after turning the board over about its length: X to the right, Y down.
    Lower,
}

impl Face {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Upper, Self::Lower];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Upper => "upper",
            Self::Lower => "lower",
        }
    }
}
