//! Lines, polylines, polygons, rectangles, circles and texts of an SVG file, each on the layer of its group.

use super::drawn::{Drawn, Form, Shape, not_understood};
use judge::Refusal;
use roxmltree::{Document, Node, ParsingOptions};

/// No more elements than this are read.
const MOST_NODES: u32 = 200_000;

/// What is on the page in mm, up on the page being up on the plan.
struct Page {
    scale: f64,
    /// The place of the plan that lies at the page's origin.
    origin: (f64, f64),
}

pub(super) fn read(text: &str) -> Result<Drawn, Refusal> {
    let options = ParsingOptions { nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options).map_err(|error| {
        not_understood(&format!("The drawing is cut off or damaged ({error}). Save it again as SVG."))
    })?;
    let root = document.root_element();
    let said = |name: &str| {
        let child = root.children().find(|child| child.has_tag_name(("http://www.w3.org/2000/svg", name)));
        child.and_then(|child| child.text()).map(str::to_string)
    };
    let about = said("desc").unwrap_or_default();
    let page = page(root, &about)?;
    let mut shapes = Vec::new();
    for node in root.descendants().filter(Node::is_element) {
        if let Some(form) = page.form(node)? {
            shapes.push(Shape { layer: layer(node), form });
        }
    }
    Ok(Drawn { name: said("title"), inches: about.starts_with("in "), shapes })
}

fn page(root: Node<'_, '_>, about: &str) -> Result<Page, Refusal> {
    let wide = root.attribute("width").and_then(mm);
    let units = root.attribute("viewBox").and_then(|all| all.split([' ', ',']).filter(|one| !one.is_empty()).nth(2));
    let units = units.and_then(|units| units.parse::<f64>().ok()).filter(|units| *units > 0.0);
    let Some((wide, units)) = wide.zip(units).filter(|(wide, _)| *wide > 0.0) else {
        return Err(not_understood(
            "The drawing does not say how long its lines are. Give it a width in mm and a view box, or save it as DXF.",
        ));
    };
    let numbers: Vec<f64> =
        about.split(' ').filter_map(|word| word.parse().ok()).filter(|n: &f64| n.is_finite()).collect();
    let origin = match numbers.as_slice() {
        [x, y] => (*x, *y),
        _ => (0.0, 0.0),
    };
    Ok(Page { scale: wide / units, origin })
}

/// A length with its unit, mm.
fn mm(text: &str) -> Option<f64> {
    let units = [("mm", 1.0), ("cm", 10.0), ("in", 25.4)];
    units.iter().find_map(|(unit, size)| Some(text.trim().strip_suffix(unit)?.trim().parse::<f64>().ok()? * size))
}

/// The name of the nearest group that has one.
fn layer(node: Node<'_, '_>) -> String {
    let named = node.ancestors().skip(1).find(|one| one.has_tag_name(("http://www.w3.org/2000/svg", "g")));
    named.and_then(|group| group.attribute("id")).unwrap_or("drawing").to_string()
}

impl Page {
    fn form(&self, node: Node<'_, '_>) -> Result<Option<Form>, Refusal> {
        let number = |name: &str| node.attribute(name).and_then(|text| text.trim().parse::<f64>().ok());
        let at = |x: &str, y: &str| self.place(number(x).unwrap_or(0.0), number(y).unwrap_or(0.0));
        let form = match node.tag_name().name() {
            "line" => Form::Way { places: vec![at("x1", "y1"), at("x2", "y2")], closed: false },
            "polyline" => Form::Way { places: self.places(node), closed: false },
            "polygon" => Form::Way { places: self.places(node), closed: true },
            "rect" => {
                let (x, y) = (number("x").unwrap_or(0.0), number("y").unwrap_or(0.0));
                let (w, h) = (number("width").unwrap_or(0.0), number("height").unwrap_or(0.0));
                let corners = [(x, y + h), (x + w, y + h), (x + w, y), (x, y)];
                Form::Way { places: corners.iter().map(|(x, y)| self.place(*x, *y)).collect(), closed: true }
            }
            "circle" => Form::Spot(at("cx", "cy")),
            "text" => Form::Text(at("x", "y"), node.text().unwrap_or_default().to_string()),
            _ => return Ok(None),
        };
        if node.ancestors().any(|one| one.has_attribute("transform")) {
            return Err(not_understood(
                "Parts of the drawing are turned or moved as a whole, which is not read. Save it with its lines in place, or as DXF.",
            ));
        }
        Ok(Some(form))
    }

    fn places(&self, node: Node<'_, '_>) -> Vec<(f64, f64)> {
        let text = node.attribute("points").unwrap_or_default();
        let numbers: Vec<f64> = text.split([' ', ',', '\n', '\t']).filter_map(|one| one.parse().ok()).collect();
        numbers.chunks(2).filter_map(|pair| Some(self.place(*pair.first()?, *pair.get(1)?))).collect()
    }

    fn place(&self, x: f64, y: f64) -> (f64, f64) {
        let finite = |value: f64| if value.is_finite() { value } else { 0.0 };
        (self.origin.0 + finite(x) * self.scale, self.origin.1 - finite(y) * self.scale)
    }
}
