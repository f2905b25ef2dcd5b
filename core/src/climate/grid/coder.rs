//! Reads and writes whole numbers as a stream of bits in which likely bits take little room.

/// Shift of the slower of the two running means a [`Chance`] is made of.
const SLOW: u32 = 7;
/// Shift of the faster one.
const FAST: u32 = 4;

/// The running estimate that a bit is set, as a fraction of 65 536: the mean of a fast and a slow
/// one, because planes differ in how soon their statistics settle.
#[derive(Debug, Clone, Copy)]
pub struct Chance {
    fast: u16,
    slow: u16,
}

impl Default for Chance {
    fn default() -> Self {
        Chance {
            fast: 1 << 15,
            slow: 1 << 15,
        }
    }
}

impl Chance {
    /// The estimate, never zero and never one.
    pub fn of_65536(self) -> u32 {
        ((u32::from(self.fast) + u32::from(self.slow)) / 2).clamp(32, 65_504)
    }

    /// Moves the estimate towards the bit that came.
    pub fn learn(&mut self, bit: bool) {
        let toward = |mean: u16, shift: u32| {
            let mean = u32::from(mean);
            let new = if bit {
                mean + ((65_535 - mean) >> shift)
            } else {
                mean - (mean >> shift)
            };
            u16::try_from(new).unwrap_or(u16::MAX)
        };
        self.fast = toward(self.fast, FAST);
        self.slow = toward(self.slow, SLOW);
    }
}

/// Reads or writes one bit with a chance that both sides know. The two sides share every line of
/// code but this.
pub trait BitCoder {
    /// Takes the bit to write, or ignores it and returns the bit read.
    fn code(&mut self, chance: &mut Chance, bit: bool) -> bool;
}

/// The reading side: binary arithmetic decoding with 32-bit bounds.
#[derive(Debug)]
pub struct BitDecoder<'a> {
    low: u32,
    high: u32,
    code: u32,
    rest: std::slice::Iter<'a, u8>,
    /// Bytes asked for after the end.
    missing: usize,
}

impl<'a> BitDecoder<'a> {
    /// Starts at the first byte of a stream.
    pub fn new(bytes: &'a [u8]) -> Self {
        let mut decoder = BitDecoder {
            low: 0,
            high: u32::MAX,
            code: 0,
            rest: bytes.iter(),
            missing: 0,
        };
        for _ in 0..4 {
            decoder.shift();
        }
        decoder
    }

    /// True when the stream was neither too short nor too long.
    pub fn came_out_even(&self) -> bool {
        // The writer closes with four bytes, of which the reader holds up to four.
        self.rest.len() == 0 && self.missing == 0
    }

    fn shift(&mut self) {
        let next = self.rest.next().copied().unwrap_or_else(|| {
            self.missing += 1;
            0
        });
        self.code = (self.code << 8) | u32::from(next);
    }
}

/// The writing side.
#[derive(Debug)]
pub struct BitEncoder {
    low: u32,
    high: u32,
    bytes: Vec<u8>,
}

impl BitEncoder {
    /// Starts after the bytes given.
    pub fn after(bytes: Vec<u8>) -> Self {
        BitEncoder {
            low: 0,
            high: u32::MAX,
            bytes,
        }
    }

    /// Closes the stream.
    pub fn finish(mut self) -> Vec<u8> {
        self.bytes.extend(self.low.to_be_bytes());
        self.bytes
    }
}

impl BitCoder for BitEncoder {
    fn code(&mut self, chance: &mut Chance, bit: bool) -> bool {
        let middle = split(self.low, self.high, *chance);
        if bit {
            self.high = middle;
        } else {
            self.low = middle + 1;
        }
        chance.learn(bit);
        while (self.low ^ self.high) >> 24 == 0 {
            self.bytes.extend(self.low.to_be_bytes().first());
            self.low <<= 8;
            self.high = (self.high << 8) | 255;
        }
        bit
    }
}

/// Where the bounds part: `low` to this value stand for a set bit.
fn split(low: u32, high: u32, chance: Chance) -> u32 {
    let part = (u64::from(high - low) * u64::from(chance.of_65536())) >> 16;
    low + u32::try_from(part).unwrap_or(u32::MAX)
}

impl BitCoder for BitDecoder<'_> {
    fn code(&mut self, chance: &mut Chance, _: bool) -> bool {
        let middle = split(self.low, self.high, *chance);
        let bit = self.code <= middle;
        if bit {
            self.high = middle;
        } else {
            self.low = middle + 1;
        }
        chance.learn(bit);
        while (self.low ^ self.high) >> 24 == 0 {
            self.low <<= 8;
            self.high = (self.high << 8) | 255;
            self.shift();
        }
        bit
    }
}

/// Levels of unrest among the neighbours; calm neighbourhoods have smaller differences.
const UNREST_LEVELS: usize = 7;
/// Highest power of two in a difference.
const POWERS: usize = 14;

/// Chances for the differences of one plane.
#[derive(Debug, Clone, Default)]
pub struct DifferenceModel {
    zero: [Chance; UNREST_LEVELS],
    sign: Chance,
    power: [[Chance; POWERS]; UNREST_LEVELS],
    digit: [[Chance; 2 * POWERS]; UNREST_LEVELS],
}

impl DifferenceModel {
    /// Codes one difference.
    pub fn code<C: BitCoder>(&mut self, coder: &mut C, around: Around, difference: i32) -> i32 {
        let level = around.unrest_level();
        if coder.code(&mut self.zero[level], difference == 0) {
            return 0;
        }
        let negative = coder.code(&mut self.sign, difference < 0);
        let size = difference.unsigned_abs();
        let mut power = 0;
        let wanted = size.max(1).ilog2() as usize;
        while power < POWERS - 1 && coder.code(&mut self.power[level][power], wanted > power) {
            power += 1;
        }
        let mut value = 1_u32;
        for place in (0..power).rev() {
            // Only the first digit after the leading one is far from even.
            let first = usize::from(place + 1 != power);
            let bit = coder.code(
                &mut self.digit[level][2 * power + first],
                size >> place & 1 == 1,
            );
            value = value << 1 | u32::from(bit);
        }
        let value = i32::try_from(value).unwrap_or(i32::MAX);
        if negative { -value } else { value }
    }
}

/// What the neighbours suggest.
#[derive(Debug, Clone, Copy)]
pub struct Around {
    /// The value they suggest.
    pub expected: i32,
    unrest: u32,
}

impl Around {
    /// From the neighbours to the west, south, south-west and south-east, as far as they are there,
    /// and the value coded last.
    pub fn new(
        west: Option<i32>,
        south: Option<i32>,
        south_west: Option<i32>,
        south_east: Option<i32>,
        last: i32,
    ) -> Self {
        let (expected, unrest) = match (west, south) {
            (Some(w), Some(s)) => {
                let corner = south_west.unwrap_or((w + s).div_euclid(2));
                let east = south_east.unwrap_or(s);
                // Of the weights tried these gave the smallest file.
                let eight = 5 * w + 3 * s - 2 * corner + 2 * east;
                (
                    (eight + 4).div_euclid(8),
                    w.abs_diff(corner) + s.abs_diff(corner) + s.abs_diff(east),
                )
            }
            (Some(w), None) => (
                w,
                3 * w.abs_diff(south_east.or(south_west).unwrap_or(w + 2)),
            ),
            (None, Some(s)) => (
                s,
                3 * s.abs_diff(south_east.or(south_west).unwrap_or(s + 2)),
            ),
            (None, None) => (south_east.or(south_west).unwrap_or(last), 12),
        };
        Around { expected, unrest }
    }

    fn unrest_level(&self) -> usize {
        match self.unrest {
            0 => 0,
            1 => 1,
            2 => 2,
            3..=4 => 3,
            5..=8 => 4,
            9..=20 => 5,
            _ => 6,
        }
    }
}
