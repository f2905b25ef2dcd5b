//! Why an answer is what it is: a stable code for programs, a sentence for people.

use std::borrow::Cow;

use serde::Serialize;

use crate::wire::FromNode;

/// One reason, caution or piece of advice.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, FromNode)]
pub struct Reason {
    /// Stable, in snake case; translations hang on it.
    pub code: Cow<'static, str>,
    /// One plain sentence.
    pub text: String,
}

impl Reason {
    pub(crate) fn new(code: &'static str, text: impl Into<String>) -> Self {
        Reason {
            code: Cow::Borrowed(code),
            text: text.into(),
        }
    }
}
