//! A text as a QR code: dark squares on white, drawn as one path.

use maud::{Markup, html};
use qrcode::{Color, EcLevel, QrCode};

use crate::words::harmless;

/// The quiet zone around a code, in modules (ISO/IEC 18004 asks for four).
const QUIET: usize = 4;

/// The code of a text as SVG; nothing when the text is too long for any.
pub(super) fn svg(text: &str) -> Markup {
    let Ok(code) = QrCode::with_error_correction_level(text, EcLevel::L) else { return html! {} };
    let (size, whole) = (code.width(), code.width() + 2 * QUIET);
    let dark = code.to_colors().into_iter().enumerate().filter(|(_, color)| *color == Color::Dark);
    let square = |(at, _): (usize, Color)| format!("M{} {}h1v1h-1z", at % size + QUIET, at / size + QUIET);
    let path: String = dark.map(square).collect();
    html! {
        svg.code role="img" aria-labelledby="code-title code-text" viewBox=(format!("0 0 {whole} {whole}")) xmlns="http://www.w3.org/2000/svg" {
            title id="code-title" { "The same for a camera" }
            desc id="code-text" { (harmless(text)) }
            path d=(path) {}
        }
    }
}
