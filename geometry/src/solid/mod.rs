//! Exact volumes, meshes and least distances of the finished board.
//!
//! The exact description comes first ([`Body`]: the board's outline with its eased rims, and every
//! cut, with closed forms; [`Exact`]: volume, surface and centre), the mesh second, made from it to
//! a chord tolerance. The whole board is built directly, and so are pieces that one recess crosses;
//! cuts that cross others or run out of the side, and any other piece, are cut by a robust boolean.
//! Knows boards and cuts, nothing of files.
//!
//! Promises: meshes are closed and oriented outward, vertices lie on the exact surface, chords
//! stay within the tolerance, points that two pieces share have the same bits. Does not promise: meshes of cuts that leave their edge or face or meet
//! where they mustn't ([`Body::cut`] refuses those).

mod body;
mod boolean;
mod clip;
mod exact;
mod flat;
mod lip;
mod mesh;
mod near;
mod outer;
mod piece;
mod share;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod tests_cuts;
#[cfg(test)]
mod tests_pieces;
#[cfg(test)]
mod tests_random;
mod tidy;
mod tool;

pub use body::{Body, NoBody};
pub use exact::{Exact, QUADRATURE};
pub use lip::Lip;
pub use mesh::Mesh;
pub use near::{LeastLip, Near, Neighbours};
pub use piece::CutPiece;
