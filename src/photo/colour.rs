//! Colours as the camera meant them, expressed in sRGB (IEC 61966-2-1) so that the profile can be left out.

use moxcms::{ColorProfile, DataColorSpace, Layout, TransformOptions};

use super::scale::Pixels;

/// Brings the colours from an ICC profile (ISO 15076-1) to sRGB; a profile that can't be used changes nothing.
pub(super) fn to_srgb(pixels: &mut Pixels, profile: &[u8]) {
    let Pixels::Colour(colour) = pixels else { return };
    let Ok(profile) = ColorProfile::new_from_slice(profile) else { return };
    if profile.color_space != DataColorSpace::Rgb {
        return;
    }
    // Fixed point: the same bytes whatever the processor can do.
    let options = TransformOptions { prefer_fixed_point: true, ..TransformOptions::default() };
    let srgb = ColorProfile::new_srgb();
    let Ok(transform) = profile.create_transform_8bit(Layout::Rgb, &srgb, Layout::Rgb, options) else {
        return;
    };
    let mut converted = vec![0; colour.len()];
    if transform.transform(colour, &mut converted).is_ok() {
        colour.copy_from_slice(&converted);
    }
}
