//! Which cuts one program holds. Knows what is cut from which side with which bit.

use super::Cutting;
use crate::cut::{Bit, Cut};
use crate::job::Holds;

/// Cuts in the order of their programs: those of one program together.
///
/// Cuts from different sides never share one, nor does what is cut before the board is trimmed share one with what is cut
/// after it; an outline and what lies between its tabs always do. Within a side they stay in their order; where the program holds several
/// bits, all of one bit's cuts come together, in the order in which the bits are first used, so that each is put in once.
#[must_use]
pub fn together(cuttings: Vec<Cutting>, holds: Holds) -> Vec<Vec<Cutting>> {
    let mut programs: Vec<Vec<Cutting>> = Vec::new();
    for cutting in cuttings {
        let joins = |program: &&mut Vec<Cutting>| match (holds, &program[0]) {
            // What lies between the tabs is cut from where the outline has come to.
            (_, first) if cutting.cut == Cut::BetweenTabs => first.cut == Cut::Outline,
            (_, first) if first.cut.is_of_the_whole() || cutting.cut.is_of_the_whole() => false,
            (Holds::EachCut, _) => false,
            (Holds::EachBit, first) => first.up == cutting.up && first.bit == cutting.bit,
            (Holds::EachSide, first) => first.up == cutting.up,
        };
        match programs.iter_mut().find(joins) {
            Some(program) => {
                let after = program.iter().rposition(|c| c.bit == cutting.bit).map_or(program.len(), |last| last + 1);
                program.insert(after, cutting);
            }
            None => programs.push(vec![cutting]),
        }
    }
    programs
}

/// The bits of a program, each once, in the order in which they are put in.
#[must_use]
pub fn bits(cuttings: &[Cutting]) -> Vec<&Bit> {
    let mut bits: Vec<&Bit> = Vec::new();
    for cutting in cuttings {
        if !bits.contains(&&cutting.bit) {
            bits.push(&cutting.bit);
        }
    }
    bits
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::{Edge, Finished};
    use crate::fixtures::{handhold, inch};

    #[test]
    fn cuts_of_one_side_come_together_bit_by_bit() {
        let board = Finished { length: 300.0, width: 250.0, thickness: 36.0 };
        let cutting = |edge, diameter: &str| {
            let mut hold = handhold(["2", "2"]);
            (hold.edge, hold.bit.diameter) = (edge, inch(diameter));
            Cutting::handhold(0, &hold, &board)
        };
        let all = || {
            vec![
                cutting(Edge::Left, "3/4"),
                cutting(Edge::Back, "3/4"),
                cutting(Edge::Left, "1/2"),
                cutting(Edge::Left, "3/4"),
            ]
        };
        let shape = |holds| together(all(), holds).iter().map(Vec::len).collect::<Vec<_>>();
        assert_eq!(shape(Holds::EachCut), [1, 1, 1, 1]);
        assert_eq!(shape(Holds::EachBit), [2, 1, 1]);
        assert_eq!(shape(Holds::EachSide), [3, 1]);
        let left = &together(all(), Holds::EachSide)[0];
        let wide: Vec<f64> = left.iter().map(|c| c.bit.diameter.mm()).collect();
        assert_eq!(wide, [19.05, 19.05, 12.7]);
        assert_eq!(bits(left).len(), 2);
    }
}
