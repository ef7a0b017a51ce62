//! Pixels on white paper, and fewer of them.

use image::metadata::Orientation;
use image::{DynamicImage, GrayImage, RgbImage};

use super::raster::lies_on_its_side;

/// An opaque picture of eight bits a channel.
pub(super) enum Pixels {
    Grey(GrayImage),
    Colour(RgbImage),
}

impl Pixels {
    /// Any picture, on white where it is transparent; in grey when it has no colours.
    pub(super) fn of(image: DynamicImage) -> Self {
        let has_colour = image.color().has_color();
        let colour = if image.color().has_alpha() { on_white(image) } else { image };
        if !has_colour {
            return Self::Grey(colour.into_luma8());
        }
        let colour = colour.into_rgb8();
        if colour.pixels().all(|pixel| pixel[0] == pixel[1] && pixel[1] == pixel[2]) {
            let (width, height) = colour.dimensions();
            return Self::Grey(GrayImage::from_fn(width, height, |x, y| {
                image::Luma([colour.get_pixel(x, y)[0]])
            }));
        }
        Self::Colour(colour)
    }

    pub(super) fn size(&self) -> (u32, u32) {
        match self {
            Self::Grey(grey) => grey.dimensions(),
            Self::Colour(colour) => colour.dimensions(),
        }
    }

    /// Whether at least half of the pixels repeat the one to their left: so do lines on paper and lettering, so does
    /// hardly a photograph. Common practice, no source; 1 in 2 lies far from both.
    pub(super) fn is_drawing(&self) -> bool {
        let (width, _) = self.size();
        let (repeats, all) = match self {
            Self::Grey(grey) => repeats::<1>(grey, width),
            Self::Colour(colour) => repeats::<3>(colour, width),
        };
        repeats * 2 >= all
    }

    /// The mean colour over each new, larger pixel; `size` must not exceed the present one.
    pub(super) fn scaled(self, size: (u32, u32)) -> Self {
        let present = self.size();
        if size == present {
            return self;
        }
        let whole = "as many bytes as pixels and channels";
        match self {
            Self::Grey(grey) => {
                let bytes = means::<1>(&grey, present, size);
                Self::Grey(GrayImage::from_raw(size.0, size.1, bytes).expect(whole))
            }
            Self::Colour(colour) => {
                let bytes = means::<3>(&colour, present, size);
                Self::Colour(RgbImage::from_raw(size.0, size.1, bytes).expect(whole))
            }
        }
    }

    pub(super) fn turned(self, turn: Orientation) -> Self {
        let mut image = match self {
            Self::Grey(grey) => DynamicImage::ImageLuma8(grey),
            Self::Colour(colour) => DynamicImage::ImageRgb8(colour),
        };
        image.apply_orientation(turn);
        match image {
            DynamicImage::ImageLuma8(grey) => Self::Grey(grey),
            other => Self::Colour(other.into_rgb8()),
        }
    }
}

/// The size, before it is turned, that fits a picture to `widest` pixels across and `longest` either way; never
/// larger.
pub(super) fn fitted(size: (u32, u32), turn: Orientation, widest: u32, longest: u32) -> (u32, u32) {
    let (width, height) = size;
    let (across, upright) = if lies_on_its_side(turn) { (height, width) } else { (width, height) };
    // The fraction `part / of` by which both sides shrink: the smallest that any limit asks for.
    let limits = [(widest, across), (longest, across), (longest, upright), (1, 1)];
    let smaller = |a: &(u32, u32), b: &(u32, u32)| {
        (u64::from(a.0) * u64::from(b.1)).cmp(&(u64::from(b.0) * u64::from(a.1)))
    };
    let (part, of) = limits.into_iter().min_by(smaller).unwrap_or((1, 1));
    (share(width, part, of), share(height, part, of))
}

/// `side * part / of` to the nearest whole pixel, at least one.
fn share(side: u32, part: u32, of: u32) -> u32 {
    let (side, part, of) = (u64::from(side), u64::from(part), u64::from(of));
    u32::try_from((side * part * 2 + of) / (of * 2)).unwrap_or(u32::MAX).max(1)
}

/// Each pixel laid over white, as on paper.
fn on_white(image: DynamicImage) -> DynamicImage {
    let over = |channel: u8, alpha: u8| {
        let (channel, alpha) = (u32::from(channel), u32::from(alpha));
        u8::try_from((channel * alpha + 255 * (255 - alpha) + 127) / 255).unwrap_or(u8::MAX)
    };
    let rgba = image.into_rgba8();
    let (width, height) = rgba.dimensions();
    let mut rgb = RgbImage::new(width, height);
    for (from, to) in rgba.pixels().zip(rgb.pixels_mut()) {
        let [red, green, blue, alpha] = from.0;
        to.0 = [over(red, alpha), over(green, alpha), over(blue, alpha)];
    }
    DynamicImage::ImageRgb8(rgb)
}

/// How many of the pixels that have a left neighbour equal it, and how many have one.
fn repeats<const N: usize>(bytes: &[u8], width: u32) -> (usize, usize) {
    let (pixels, _) = bytes.as_chunks::<N>();
    let rows = pixels.chunks_exact(width.max(1) as usize);
    let all = rows.len() * (width as usize - 1);
    (rows.map(|row| row.windows(2).filter(|pair| pair[0] == pair[1]).count()).sum(), all)
}

/// Area means in whole numbers, so that every machine gives the same bytes. An old pixel counts by how much of it
/// lies within the new one: along a side of `from` old and `to` new pixels, an old one is `to` units wide and a new
/// one `from`.
fn means<const N: usize>(bytes: &[u8], from: (u32, u32), to: (u32, u32)) -> Vec<u8> {
    let across = shares(from.0, to.0);
    let area = u64::from(from.0) * u64::from(from.1);
    let mut scaled = Vec::with_capacity(to.0 as usize * to.1 as usize * N);
    let mut sums = vec![[0u64; N]; to.0 as usize];
    let (pixels, _) = bytes.as_chunks::<N>();
    let rows = pixels.chunks_exact(from.0 as usize);
    for (row, share) in rows.zip(shares(from.1, to.1)) {
        let narrow = narrowed(row, &across, to.0);
        add(&mut sums, &narrow, share.first);
        if share.is_last {
            scaled.extend(sums.iter().flatten().map(|sum| mean(*sum, area)));
            sums.fill([0; N]);
            add(&mut sums, &narrow, share.second);
        }
    }
    scaled
}

/// How an old pixel along one side is shared out: `first` units to the current new pixel, and, when it reaches that
/// one's end, the `second` to the next.
#[derive(Clone, Copy)]
struct Share {
    first: u32,
    second: u32,
    is_last: bool,
}

fn shares(from: u32, to: u32) -> Vec<Share> {
    let mut room = from;
    let share = |_| {
        let first = room.min(to);
        let is_last = room <= to;
        let second = to - first;
        room = if is_last { from - second } else { room - to };
        Share { first, second, is_last }
    };
    (0..from).map(share).collect()
}

/// One row with fewer, larger pixels, each a weighted sum.
fn narrowed<const N: usize>(row: &[[u8; N]], across: &[Share], width: u32) -> Vec<[u32; N]> {
    let mut narrow = Vec::with_capacity(width as usize);
    let mut sum = [0u32; N];
    for (pixel, share) in row.iter().zip(across) {
        for channel in 0..N {
            sum[channel] += u32::from(pixel[channel]) * share.first;
        }
        if share.is_last {
            narrow.push(sum);
            sum = pixel.map(|value| u32::from(value) * share.second);
        }
    }
    narrow
}

fn add<const N: usize>(sums: &mut [[u64; N]], row: &[[u32; N]], share: u32) {
    for (sum, value) in sums.iter_mut().flatten().zip(row.iter().flatten()) {
        *sum += u64::from(*value) * u64::from(share);
    }
}

fn mean(sum: u64, area: u64) -> u8 {
    u8::try_from((sum + area / 2) / area).unwrap_or(u8::MAX)
}
