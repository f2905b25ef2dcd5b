//! A table of texts, whatever it was written as.

/// Columns with a name and perhaps a unit, and rows of cells.
#[derive(Debug, Clone, Default, PartialEq)]
pub(in crate::climate) struct Sheet {
    /// What the text calls it; nothing where the text is one table.
    pub name: String,
    pub headings: Vec<Heading>,
    pub rows: Vec<Row>,
    /// What stands for a row in messages: `line` or `element`.
    pub row_word: &'static str,
    /// Seconds east of UTC of all its times, where the text says so.
    pub offset_s: Option<i32>,
    /// The zone of its times, where the text names one.
    pub zone: Option<String>,
}

/// The head of a column.
#[derive(Debug, Clone, Default, PartialEq)]
pub(in crate::climate) struct Heading {
    pub name: String,
    /// The unit, where it stands apart from the name.
    pub unit: String,
}

/// A row and where it stands.
#[derive(Debug, Clone, Default, PartialEq)]
pub(in crate::climate) struct Row {
    pub number: usize,
    pub cells: Vec<String>,
}

impl Heading {
    pub fn new(name: &str) -> Self {
        Heading {
            name: name.to_owned(),
            unit: String::new(),
        }
    }
}

impl Row {
    /// A cell, or an empty one.
    pub fn cell(&self, column: usize) -> &str {
        self.cells.get(column).map_or("", |cell| cell.trim())
    }

    pub fn is_empty(&self) -> bool {
        self.cells.iter().all(|cell| cell.trim().is_empty())
    }
}
