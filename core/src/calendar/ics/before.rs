//! The calendar that was made before, so that only what changed gets a new version (RFC 5545, section
//! 3.8.7.4).

use std::collections::{BTreeMap, BTreeSet};

use super::event::{Event, utc};
use super::line::Lines;
use super::{IcsSettings, LARGEST_SEQUENCE};

const VERSION: [&str; 3] = ["DTSTAMP:", "LAST-MODIFIED:", "SEQUENCE:"];

/// An event as it was written.
struct Written {
    sequence: u32,
    stamp: String,
    /// Its lines without identifier and version.
    body: String,
}

/// The events of a calendar of this engine by identifier. What another program wrote or changed is read
/// as far as it goes: at worst an event counts as changed.
pub(super) struct Before {
    events: BTreeMap<String, Written>,
}

impl Before {
    pub fn of(text: &str) -> Self {
        let text = text.replace("\r\n", "\n");
        let mut events = BTreeMap::new();
        let mut open: Option<Vec<&str>> = None;
        for line in text.lines() {
            match (line, &mut open) {
                ("BEGIN:VEVENT", _) => open = Some(Vec::new()),
                ("END:VEVENT", _) => {
                    let lines = open.take().unwrap_or_default();
                    events.extend(written(&lines));
                }
                (line, Some(lines)) => lines.push(line),
                (_, None) => {}
            }
        }
        Before { events }
    }

    /// Version and stamp of an event; it is then dealt with.
    pub fn version(&mut self, event: &Event, settings: &IcsSettings) -> (u32, String) {
        let now = utc(settings.stamp.to_utc());
        match self.events.remove(&event.uid) {
            Some(old) if old.body == event.body.as_text() => (old.sequence, old.stamp),
            Some(old) => (settings.sequence.max(next(old.sequence)), now),
            None => (settings.sequence, now),
        }
    }

    /// The identifiers of what is not dealt with yet.
    pub fn left(&self) -> impl Iterator<Item = &str> {
        self.events.keys().map(String::as_str)
    }

    /// Writes an event again as it was; it is then dealt with.
    pub fn keep(&mut self, uid: &str, lines: &mut Lines) {
        if let Some(old) = self.events.remove(uid) {
            let body = Lines::of(&old.body);
            let uid = uid.to_owned();
            Event { uid, body }.write(lines, old.sequence, &old.stamp);
        }
    }

    /// Cancels what is left of these plans or places. Events of others are not theirs to cancel.
    pub fn cancel_rest(self, owners: &BTreeSet<String>, settings: &IcsSettings, lines: &mut Lines) {
        self.cancel(|uid| owners.contains(owner(uid)), settings, lines);
    }

    /// Cancels what is left and gone.
    pub fn cancel(self, is_gone: impl Fn(&str) -> bool, settings: &IcsSettings, lines: &mut Lines) {
        for (uid, old) in self.events {
            if !is_gone(&uid) {
                continue;
            }
            let cancelled = old.body.contains("STATUS:CANCELLED\r\n");
            let event = Event {
                body: Lines::of(
                    &old.body
                        .replace("STATUS:CONFIRMED\r\n", "STATUS:CANCELLED\r\n")
                        .replace("STATUS:TENTATIVE\r\n", "STATUS:CANCELLED\r\n"),
                ),
                uid,
            };
            if cancelled {
                event.write(lines, old.sequence, &old.stamp);
            } else {
                let sequence = settings.sequence.max(next(old.sequence));
                event.write(lines, sequence, &utc(settings.stamp.to_utc()));
            }
        }
    }
}

/// The plan or place that an identifier begins with.
fn owner(uid: &str) -> &str {
    uid.split('.').next().unwrap_or_default()
}

fn next(sequence: u32) -> u32 {
    sequence.saturating_add(1).min(LARGEST_SEQUENCE)
}

/// Identifier and content of an event from its folded lines.
fn written(lines: &[&str]) -> Option<(String, Written)> {
    let mut uid = String::new();
    let mut version = VERSION.map(|_| String::new());
    let mut body = String::new();
    // What a folded line goes on with belongs to what it began.
    let mut of_body = true;
    for line in lines {
        if let Some(more) = line.strip_prefix(' ').filter(|_| !of_body) {
            uid.push_str(more);
            continue;
        }
        let field = VERSION.iter().position(|name| line.starts_with(name));
        if let Some(rest) = line.strip_prefix("UID:") {
            uid = rest.to_owned();
            of_body = false;
        } else if let Some(field) = field {
            line[VERSION[field].len()..].clone_into(&mut version[field]);
            of_body = false;
        } else {
            of_body = true;
            body.push_str(line);
            body.push_str("\r\n");
        }
    }
    let [_, stamp, sequence] = version;
    let sequence = sequence
        .parse()
        .ok()
        .filter(|sequence| *sequence <= LARGEST_SEQUENCE)?;
    Some((
        uid,
        Written {
            sequence,
            stamp,
            body,
        },
    ))
}
