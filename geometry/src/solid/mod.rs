//! Exact volumes, meshes and least distances of the finished board.
//!
//! The exact description comes first ([`Body`]: a box and the recesses in its edges, with closed
//! forms), the mesh second, made from it to a chord tolerance. The whole board is built directly;
//! so are pieces that one recess crosses; any other are cut by a robust boolean. Knows boards and cuts, nothing of files.
//!
//! Promises: meshes are closed and oriented outward, vertices lie on the exact surface, chords
//! stay within the tolerance. Does not promise: meshes of recesses that leave their edge or meet
//! ([`Body::of`] refuses those), or that two neighbouring pieces share bit-equal vertices along a
//! recess where the boolean had to cut one of them.

mod body;
mod clip;
mod face;
mod lip;
mod mesh;
mod piece;
mod recess;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod tests_pieces;

pub use body::{Body, NoBody, at_least_between};
pub use lip::{Lip, between};
pub use mesh::Mesh;
pub use piece::CutPiece;
