//! A JPEG of even blocks, as plain as the format allows: for tests that need one of any size, kind or damage.

/// What is to be written.
pub struct Jpeg {
    /// Pixels, a multiple of 8.
    pub width: u16,
    /// Pixels, a multiple of 8.
    pub height: u16,
    /// Colour components: 1 grey, 3 YCbCr, 4 the colours of print.
    pub components: u8,
    /// An Exif block, without its name.
    pub exif: Vec<u8>,
}

impl Jpeg {
    /// Baseline (ITU-T T.81), one block of 8 × 8 pixels after another, each of the one value of `level` at its column and
    /// row of blocks and its component.
    pub fn write(&self, level: impl Fn(usize, usize, u8) -> u8) -> Vec<u8> {
        let mut out = vec![0xff, 0xd8];
        if !self.exif.is_empty() {
            segment(&mut out, 0xe1, &[b"Exif\0\0".as_slice(), &self.exif].concat());
        }
        if self.components == 4 {
            segment(&mut out, 0xee, b"Adobe\0\x64\0\0\0\0\0");
        }
        // Every step of the quantisation is 8, so that a block's level less 128 is its one coefficient.
        segment(&mut out, 0xdb, &[[0].as_slice(), &[8; 64]].concat());
        let [h, w] = [self.height, self.width].map(u16::to_be_bytes);
        let mut frame = vec![8, h[0], h[1], w[0], w[1], self.components];
        let mut scan = vec![self.components];
        for id in 1..=self.components {
            frame.extend([id, 0x11, 0]);
            scan.extend([id, 0]);
        }
        scan.extend([0, 63, 0]);
        segment(&mut out, 0xc0, &frame);
        // Differences of 0 to 11 bits, each told by 4 bits; of the other coefficients only "no more", told by 1 bit.
        let mut lengths = [0; 16];
        lengths[3] = 12;
        segment(&mut out, 0xc4, &[[0x00].as_slice(), &lengths, &(0..12).collect::<Vec<u8>>()].concat());
        (lengths[3], lengths[0]) = (0, 1);
        segment(&mut out, 0xc4, &[[0x10].as_slice(), &lengths, &[0]].concat());
        segment(&mut out, 0xda, &scan);
        let mut bits = Bits { out, held: 0, count: 0 };
        let mut before = [0_i32; 4];
        for row in 0..usize::from(self.height) / 8 {
            for column in 0..usize::from(self.width) / 8 {
                for component in 0..self.components {
                    let now = i32::from(level(column, row, component)) - 128;
                    let step = now - std::mem::replace(&mut before[usize::from(component)], now);
                    let size = 32 - step.unsigned_abs().leading_zeros();
                    bits.put(size, 4);
                    bits.put((if step < 0 { step - 1 } else { step }) as u32 & ((1 << size) - 1), size);
                    bits.put(0, 1);
                }
            }
        }
        bits.put(0x7f, 7);
        bits.out.extend([0xff, 0xd9]);
        bits.out
    }
}

fn segment(out: &mut Vec<u8>, marker: u8, body: &[u8]) {
    out.extend([0xff, marker]);
    out.extend((body.len() as u16 + 2).to_be_bytes());
    out.extend(body);
}

struct Bits {
    out: Vec<u8>,
    held: u32,
    count: u32,
}

impl Bits {
    fn put(&mut self, value: u32, bits: u32) {
        self.held = self.held << bits | value;
        self.count += bits;
        while self.count >= 8 {
            self.count -= 8;
            let byte = (self.held >> self.count) as u8;
            self.out.push(byte);
            if byte == 0xff {
                self.out.push(0);
            }
        }
        self.held &= (1 << self.count) - 1;
    }
}

/// An Exif block that says how the camera was held, in either order of bytes.
pub fn exif(orientation: u16, little: bool) -> Vec<u8> {
    let short = |n: u16| if little { n.to_le_bytes() } else { n.to_be_bytes() };
    let long = |n: u32| if little { n.to_le_bytes() } else { n.to_be_bytes() };
    let mut block = if little { b"II".to_vec() } else { b"MM".to_vec() };
    block.extend(short(42));
    block.extend(long(8));
    block.extend(short(2));
    // Another tag first: Make, two bytes of text.
    for (tag, kind, count, value) in [(0x010f, 2, 2, 0), (0x0112, 3, 1, orientation)] {
        block.extend(short(tag));
        block.extend(short(kind));
        block.extend(long(count));
        block.extend(short(value));
        block.extend(short(0));
    }
    block.extend(long(0));
    block
}
