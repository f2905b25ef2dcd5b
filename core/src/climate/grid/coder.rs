//! Reads and writes whole numbers as a stream of bits in which likely bits take little room.

/// Number of bits after which a [`Chance`] weighs a new one no less than before.
const MEMORY: u8 = 120;

/// What a new bit weighs when so many have been seen, 2/(2 n + 3), in parts of 4,096. Kept, because
/// a division for every bit was most of what decoding took.
const WEIGHTS: [i32; MEMORY as usize + 1] = {
    let mut weights = [0; MEMORY as usize + 1];
    let mut seen = 0;
    while seen < weights.len() {
        weights[seen] = 2 * 4096 / (2 * seen as i32 + 3);
        seen += 1;
    }
    weights
};

/// The running estimate that a bit is set, as a fraction of 65 536: at first the mean of all bits
/// seen, later one that forgets.
#[derive(Debug, Clone, Copy)]
pub struct Chance {
    of_65536: u16,
    seen: u8,
}

impl Default for Chance {
    fn default() -> Self {
        Chance {
            of_65536: 1 << 15,
            seen: 0,
        }
    }
}

impl Chance {
    /// Moves the estimate towards the bit that came.
    fn learn(&mut self, bit: bool) {
        let old = i32::from(self.of_65536);
        // Never zero and never one.
        let goal = if bit { 65_504 } else { 32 };
        let new = old + (((goal - old) * WEIGHTS[usize::from(self.seen)]) >> 12);
        self.of_65536 = u16::try_from(new).unwrap_or(u16::MAX);
        self.seen = (self.seen + 1).min(MEMORY);
    }
}

/// Reads or writes one bit with a chance that both sides know. The sides share every line of code
/// but this.
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

/// The writing side.
#[derive(Debug)]
pub struct BitEncoder {
    low: u32,
    high: u32,
    bytes: Vec<u8>,
}

impl BitEncoder {
    /// Starts an empty stream.
    pub fn new() -> Self {
        BitEncoder {
            low: 0,
            high: u32::MAX,
            bytes: Vec::new(),
        }
    }

    /// Closes the stream.
    pub fn finish(mut self) -> Vec<u8> {
        self.bytes.extend(self.low.to_be_bytes());
        self.bytes
    }
}

impl Default for BitEncoder {
    fn default() -> Self {
        BitEncoder::new()
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

/// Writes nothing: for going through a table without a file.
#[derive(Debug)]
pub struct NoFile;

impl BitCoder for NoFile {
    fn code(&mut self, _: &mut Chance, bit: bool) -> bool {
        bit
    }
}

/// Where the bounds part: `low` to this value stand for a set bit.
fn split(low: u32, high: u32, chance: Chance) -> u32 {
    let part = (u64::from(high - low) * u64::from(chance.of_65536)) >> 16;
    low + u32::try_from(part).unwrap_or(u32::MAX)
}

/// Highest power of two in a difference.
const POWERS: usize = 12;

/// What is known about a difference before it is coded: how large those around it are.
#[derive(Debug, Clone, Copy)]
pub struct Unrest {
    /// How far points nearby were from what was expected of them, 0 to 4.
    pub nearby: usize,
    /// How far the values apart are from which the expected one was made, 0 to 3.
    pub apart: usize,
    /// The difference coded before at the same point, in the plane before.
    pub before: i32,
}

impl Unrest {
    /// All of it in one number, 0 to 9.
    pub fn level(self) -> usize {
        self.nearby + self.apart + self.size_before()
    }

    fn size_before(self) -> usize {
        self.before.unsigned_abs().min(2) as usize
    }
}

/// Chances for the differences of one plane.
#[derive(Debug, Clone, Default)]
pub struct DifferenceModel {
    zero: [[[Chance; 4]; 3]; 5],
    sign: [Chance; 3],
    power: [[Chance; POWERS]; 5],
    digit: [[Chance; POWERS]; 5],
}

impl DifferenceModel {
    /// Codes one difference.
    pub fn code<C: BitCoder>(&mut self, coder: &mut C, unrest: Unrest, difference: i32) -> i32 {
        let zero = &mut self.zero[unrest.nearby][unrest.size_before()][unrest.apart];
        if coder.code(zero, difference == 0) {
            return 0;
        }
        let sign = &mut self.sign[(unrest.before.signum() + 1) as usize];
        let negative = coder.code(sign, difference < 0);
        let size = difference.unsigned_abs();
        let wanted = size.max(1).ilog2() as usize;
        let mut power = 0;
        while power < POWERS - 1
            && coder.code(&mut self.power[unrest.nearby][power], wanted > power)
        {
            power += 1;
        }
        let mut value = 1;
        for place in (0..power).rev() {
            let digit = &mut self.digit[unrest.nearby][place];
            value = value << 1 | i32::from(coder.code(digit, size >> place & 1 == 1));
        }
        if negative { -value } else { value }
    }
}
