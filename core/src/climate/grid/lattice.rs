//! The order in which the points of a field are coded, coarse before fine, and what each is expected
//! to be.
//!
//! First come the points of every sixteenth row and column, then those in the middles of the squares
//! between them, then those in the middles of the squares' sides, and so on at half the distance. A
//! point is expected to be the mean of the four around it, bent as the four farther out suggest;
//! smooth fields are then almost nothing but zeros.

use super::coder::{BitCoder, DifferenceModel, Unrest};

/// Rows and columns between the points that come first.
const WIDEST: usize = 16;
/// Parts of a step in which values are kept: what is expected of a point is not a whole step.
pub const PARTS: i32 = 16;

/// The points of a grid that hold a value, in coding order. The grid does not close around the
/// globe.
#[derive(Debug)]
pub struct Lattice {
    rounds: Vec<Round>,
    places: usize,
}

/// Points whose neighbours stand at the same distances.
#[derive(Debug)]
struct Round {
    /// How far off those stand that a point is expected from; three times as far those for the bend.
    around: [isize; 4],
    /// How far off two stand that are coded before in the same round.
    beside: [isize; 2],
    spots: Vec<Spot>,
}

#[derive(Debug, Clone, Copy)]
struct Spot {
    place: u32,
    /// One bit each: the four around, all four farther out, the two beside.
    there: u8,
}

const ALL_AROUND: u8 = 0b1111;
const FARTHER_OUT: u8 = 1 << 4;
const BESIDE: u8 = 5;

/// The numbers of one plane at the places of a grid.
#[derive(Debug)]
pub struct Field {
    /// Parts of a step ([`PARTS`]).
    pub values: Vec<i16>,
    /// What was coded: whole steps off the expected value.
    differences: Vec<i16>,
}

/// A point to be coded.
#[derive(Debug, Clone, Copy)]
pub struct Point {
    /// Its place in the grid.
    pub place: usize,
    /// What is expected of it, in parts of a step.
    pub expected: i32,
    /// How large the differences are around it.
    pub unrest: Unrest,
}

impl Lattice {
    /// Orders the places that are `there` in a grid with this many columns.
    pub fn new(there: &[bool], columns: usize) -> Self {
        let wide = WIDEST as isize;
        let start = [(0, -wide), (-wide, 0)];
        let mut rounds = vec![Round::new(
            there,
            columns,
            [WIDEST; 2],
            |_| (0, 0),
            &start,
            start,
        )];
        let mut apart = WIDEST / 2;
        while apart > 0 {
            let a = apart as isize;
            let corners = [(-a, -a), (-a, a), (a, -a), (a, a)];
            let before = [(0, -2 * a), (-2 * a, 0)];
            let steps = [2 * apart, 2 * apart];
            rounds.push(Round::new(
                there,
                columns,
                steps,
                |_| (apart, apart),
                &corners,
                before,
            ));
            let sides = [(-a, 0), (a, 0), (0, -a), (0, a)];
            let before = [(-a, -a), (-a, a)];
            let steps = [apart, 2 * apart];
            let first = |row: usize| (0, [apart, 0][row / apart % 2]);
            rounds.push(Round::new(there, columns, steps, first, &sides, before));
            apart /= 2;
        }
        Lattice {
            rounds,
            places: there.len(),
        }
    }

    /// Runs a plane through a coder. `before` is the plane coded before; `follow` parts of a step are
    /// expected for every step that one was off. A writer's `wish` says how many steps a point is
    /// to be off what is expected; a reader's is not heard.
    pub fn code<C: BitCoder>(
        &self,
        coder: &mut C,
        before: Option<&Field>,
        follow: i32,
        mut wish: impl FnMut(Point) -> i32,
    ) -> Field {
        let mut model = DifferenceModel::default();
        let mut field = Field {
            values: vec![0; self.places],
            differences: vec![0; self.places],
        };
        // Slices, because small code calls a function for each access to a vector.
        let (values, differences) = (&mut field.values[..], &mut field.differences[..]);
        let before = before.map(|field| &field.differences[..]);
        let mut last = 0;
        for round in &self.rounds {
            for spot in &round.spots {
                let place = spot.place as usize;
                let (mut sum, mut count, mut nearby) = (0, 0, 0);
                let (mut lowest, mut highest) = (i32::MAX, i32::MIN);
                for i in 0..4 {
                    if spot.there >> i & 1 == 1 {
                        let off = round.around[i];
                        let value = at(values, place, off);
                        sum += value;
                        count += 1;
                        lowest = lowest.min(value);
                        highest = highest.max(value);
                        nearby += at(differences, place, off).unsigned_abs();
                    }
                }
                for i in 0..2 {
                    if spot.there >> BESIDE >> i & 1 == 1 {
                        nearby += 4 * at(differences, place, round.beside[i]).unsigned_abs();
                    }
                }
                let mut expected = if spot.there & FARTHER_OUT != 0 {
                    let [a, b, c, d] = round.around;
                    let farther = at(values, place, 3 * a)
                        + at(values, place, 3 * b)
                        + at(values, place, 3 * c)
                        + at(values, place, 3 * d);
                    (9 * sum - farther + 16) >> 5
                } else if count > 0 {
                    (2 * sum + count).div_euclid(2 * count)
                } else {
                    last
                };
                if count == 0 {
                    (lowest, highest) = (0, 0);
                }
                let before = before.map_or(0, |before| at(before, place, 0));
                expected += follow * before;
                let unrest = Unrest {
                    nearby: match nearby {
                        0..=1 => 0,
                        2..=5 => 1,
                        6..=9 => 2,
                        10..=17 => 3,
                        _ => 4,
                    },
                    apart: match 2 * (highest - lowest) / PARTS {
                        ..1 => 0,
                        1..3 => 1,
                        3..6 => 2,
                        _ => 3,
                    },
                    before,
                };
                let wanted = wish(Point {
                    place,
                    expected,
                    unrest,
                });
                let steps = model.code(coder, unrest, wanted);
                values[place] = clamp(expected + PARTS * steps);
                last = i32::from(values[place]);
                differences[place] = clamp(steps);
            }
        }
        field
    }
}

/// The number so far off a place. Always inlined: it is most of what decoding does.
#[inline(always)]
fn at(numbers: &[i16], place: usize, off: isize) -> i32 {
    i32::from(numbers[place.wrapping_add_signed(off)])
}

fn clamp(number: i32) -> i16 {
    i16::try_from(number).unwrap_or(if number < 0 { i16::MIN } else { i16::MAX })
}

impl Round {
    /// The places of a round: `steps` are those from row to row and from column to column, `first`
    /// gives the first row and, for each row, its first column. How far off neighbours are is given
    /// in rows and columns.
    fn new(
        there: &[bool],
        columns: usize,
        steps: [usize; 2],
        first: impl Fn(usize) -> (usize, usize),
        around: &[(isize, isize)],
        beside: [(isize, isize); 2],
    ) -> Self {
        let rows = there.len() / columns;
        let mut spots = Vec::new();
        let mut row = first(0).0;
        while row < rows {
            let mut column = first(row).1;
            while column < columns {
                let place = row * columns + column;
                let (this_row, this_column) = (row, column);
                column += steps[1];
                if !there[place] {
                    continue;
                }
                let is_there = |(rows, over): (isize, isize)| {
                    let row = this_row.checked_add_signed(rows);
                    let column = this_column
                        .checked_add_signed(over)
                        .filter(|c| *c < columns);
                    row.zip(column)
                        .and_then(|(r, c)| there.get(r * columns + c))
                        .is_some_and(|there| *there)
                };
                let mut bits = 0;
                for (i, off) in around.iter().enumerate() {
                    bits |= u8::from(is_there(*off)) << i;
                }
                if bits == ALL_AROUND && around.iter().all(|(r, c)| is_there((3 * r, 3 * c))) {
                    bits |= FARTHER_OUT;
                }
                for (i, off) in beside.into_iter().enumerate() {
                    bits |= u8::from(is_there(off)) << BESIDE << i;
                }
                spots.push(Spot {
                    place: place as u32,
                    there: bits,
                });
            }
            row += steps[0];
        }
        let places = |(rows, over): (isize, isize)| rows * columns as isize + over;
        Round {
            around: std::array::from_fn(|i| around.get(i).map_or(0, |off| places(*off))),
            beside: beside.map(places),
            spots,
        }
    }
}
