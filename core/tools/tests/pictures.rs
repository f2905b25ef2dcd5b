//! The pictures as a viewer gets them: valid XML, everything on the sheet, no words on words, enough
//! contrast, an alternative in words.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::collections::BTreeSet;

use roxmltree::{Document, Node};

use apiary_almanac_tools::scenes;

/// Advance widths of the characters 32 to 126 in thousandths of the size, from the font files
/// DejaVu Sans and DejaVu Sans Bold, version 2.37: the widest of the fonts that the pictures ask for.
const REGULAR: [u32; 95] = [
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636,
    636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632,
    575, 775, 752, 295, 295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685,
    611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579,
    278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
];
const BOLD: [u32; 95] = [
    348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365, 696, 696, 696,
    696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 580, 1000, 774, 762, 734, 830, 683,
    683, 821, 837, 372, 372, 775, 637, 995, 837, 850, 733, 850, 770, 720, 682, 812, 774, 1103, 771,
    724, 725, 457, 365, 457, 838, 500, 500, 675, 716, 593, 716, 678, 435, 716, 712, 343, 343, 665,
    343, 1042, 712, 687, 716, 716, 493, 595, 478, 712, 652, 924, 645, 652, 582, 712, 365, 712, 838,
];

fn width(text: &str, size: f64, bold: bool) -> f64 {
    let widths = if bold { &BOLD } else { &REGULAR };
    let thousandths: u32 = text
        .chars()
        .map(|c| match c {
            ' '..='~' => widths[c as usize - 32],
            '–' | '°' => 500,
            '…' => 1000,
            // The font has no emoji and no ideographs; others draw them one em wide.
            _ => 1000,
        })
        .sum();
    f64::from(thousandths) / 1000.0 * size
}

struct Words<'a> {
    text: &'a str,
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

fn number(node: Node, name: &str) -> f64 {
    node.attribute(name).unwrap().parse().unwrap()
}

fn words<'a>(document: &'a Document) -> Vec<Words<'a>> {
    let texts = document.descendants().filter(|n| n.has_tag_name("text"));
    texts
        .map(|node| {
            let text = node.text().unwrap_or_default();
            let (x, y, size) = (
                number(node, "x"),
                number(node, "y"),
                number(node, "font-size"),
            );
            let wide = width(text, size, node.has_attribute("font-weight"));
            let left = match node.attribute("text-anchor") {
                Some("middle") => x - wide / 2.0,
                Some("end") => x - wide,
                _ => x,
            };
            Words {
                text,
                left,
                right: left + wide,
                top: y - 0.76 * size,
                bottom: y + 0.24 * size,
            }
        })
        .collect()
}

/// Relative luminance and contrast of WCAG 2.2, "relative luminance", "contrast ratio".
fn contrast(a: &str, b: &str) -> f64 {
    let luminance = |colour: &str| {
        let part = |from: usize| {
            let c = f64::from(u8::from_str_radix(&colour[from..from + 2], 16).unwrap()) / 255.0;
            if c <= 0.04045 {
                c / 12.92
            } else {
                ((c + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
    };
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn the_contrast_of_the_standard() {
    assert_eq!(contrast("#000000", "#ffffff"), 21.0);
    // The grey that just passes AA on white: 4.54:1, from memory.
    assert!((contrast("#767676", "#ffffff") - 4.54).abs() < 0.01);
}

fn each_picture(check: impl Fn(&str, &str, &Document)) {
    let pictures = scenes::pictures().unwrap();
    assert!(pictures.len() > 10);
    for (file, svg) in &pictures {
        let document = Document::parse(svg).unwrap_or_else(|e| panic!("{file}: {e}"));
        check(file, svg, &document);
    }
}

fn sheet(document: &Document) -> (f64, f64) {
    let view = document.root_element().attribute("viewBox").unwrap();
    let view: Vec<f64> = view.split(' ').map(|n| n.parse().unwrap()).collect();
    // A poster of many hives is wider: on paper its letters are large enough.
    let is_sheet = document.root_element().attribute("width") == Some("210mm");
    if is_sheet {
        assert!((360.0..=600.0).contains(&view[2]));
    } else {
        assert_eq!(view[2], 320.0);
    }
    assert_eq!(view[..2], [0.0, 0.0]);
    (view[2], view[3])
}

#[test]
fn all_words_are_on_the_sheet() {
    each_picture(|file, _, document| {
        let (w, h) = sheet(document);
        for words in words(document) {
            assert!(
                words.left >= 0.0 && words.right <= w && words.top >= 0.0 && words.bottom <= h,
                "{file}: {:?} reaches from {} to {}, at {} of {h}",
                words.text,
                words.left,
                words.right,
                words.bottom
            );
        }
    });
}

#[test]
fn no_words_on_words() {
    each_picture(|file, _, document| {
        let all = words(document);
        for (i, a) in all.iter().enumerate() {
            for b in &all[..i] {
                let apart = a.right <= b.left
                    || b.right <= a.left
                    || a.bottom <= b.top + 0.5
                    || b.bottom <= a.top + 0.5;
                assert!(apart, "{file}: {:?} lies on {:?}", a.text, b.text);
            }
        }
    });
}

#[test]
fn everything_drawn_is_on_the_sheet() {
    each_picture(|file, _, document| {
        let (w, h) = sheet(document);
        for path in document.descendants().filter(|n| n.has_tag_name("path")) {
            let d = path.attribute("d").unwrap();
            // Absolute points; the only relative commands draw rectangles, h and v.
            for point in d.split(['M', 'L']).filter(|p| !p.is_empty()) {
                let mut numbers =
                    point.split(|c: char| !c.is_ascii_digit() && c != '.' && c != '-');
                let mut next = || numbers.next().unwrap().parse::<f64>().unwrap();
                let (x, y) = (next(), next());
                assert!(
                    (0.0..=w).contains(&x) && (0.0..=h).contains(&y),
                    "{file}: {d}"
                );
            }
        }
    });
}

/// WCAG 2.2: 1.4.3 for words, 1.4.11 for lines and marks that carry meaning.
#[test]
fn words_and_lines_stand_out_from_every_ground_of_their_picture() {
    /// Lines that only guide the eye.
    const GUIDES: &str = "#c9c9c9";
    /// Points that are filled, and their outline.
    const INK: &str = "#1c1c1c";
    each_picture(|file, _, document| {
        let colours = |name: &str| -> BTreeSet<String> {
            let paths = document.descendants().filter(|n| n.has_tag_name("path"));
            paths
                .filter_map(|n| n.attribute(name).map(str::to_owned))
                .filter(|colour| !["none", GUIDES].contains(&colour.as_str()))
                .collect()
        };
        let mut grounds = colours("fill");
        grounds.remove(INK);
        let lines = colours("stroke");
        assert!(grounds.contains("#ffffff") && lines.contains(INK), "{file}");
        for node in document.descendants().filter(|n| n.has_tag_name("text")) {
            let fill = node.attribute("fill").unwrap();
            for ground in &grounds {
                let found = contrast(fill, ground);
                assert!(found >= 4.5, "{file}: {fill} on {ground}: {found:.2}");
            }
            assert!(number(node, "font-size") >= 10.5, "{file}");
        }
        for line in &lines {
            for ground in &grounds {
                let found = contrast(line, ground);
                assert!(found >= 3.0, "{file}: {line} on {ground}: {found:.2}");
            }
        }
    });
}

#[test]
fn every_number_in_a_picture_is_finite() {
    each_picture(|file, _, document| {
        for node in document.descendants().filter(Node::is_element) {
            for attribute in node.attributes() {
                let mut words = attribute.value().split(|c: char| !c.is_ascii_alphabetic());
                assert!(
                    !words.any(|word| ["NaN", "inf"].contains(&word)),
                    "{file}: {}",
                    attribute.value()
                );
            }
        }
    });
}

#[test]
fn an_alternative_in_words() {
    each_picture(|file, svg, document| {
        let root = document.root_element();
        assert_eq!(root.attribute("role"), Some("img"), "{file}");
        let mut children = root.children().filter(Node::is_element);
        let (title, desc) = (children.next().unwrap(), children.next().unwrap());
        assert!(
            title.has_tag_name(("http://www.w3.org/2000/svg", "title")),
            "{file}"
        );
        assert!(
            desc.has_tag_name(("http://www.w3.org/2000/svg", "desc")),
            "{file}"
        );
        assert!(
            !title.text().unwrap().trim().is_empty() && desc.text().unwrap().len() > 60,
            "{file}"
        );
        // Any number of pictures can stand in one page, and none loads or runs anything.
        for refused in [" id=", "url(", "href", "<script", "<style", "onload"] {
            assert!(!svg.contains(refused), "{file}: {refused}");
        }
    });
}
