//! Every word on the sheets, from one catalogue for each language, with plural forms.
//!
//! The catalogues are `export/words/*.ftl`, in the syntax of the Fluent project; its library chooses
//! the plural form. A figure keeps its place in a sentence between two marks that no font has, so
//! that the page can set it as a figure. Must not know where on a page a sentence stands.

mod figure;

pub(crate) use figure::{END, SET, TOLD};

use fluent_bundle::{FluentArgs, FluentBundle, FluentResource, FluentValue};
use std::borrow::Cow;
use unic_langid::LanguageIdentifier;

/// A language that the sheets are written in. Units and paper don't depend on it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Language {
    /// English.
    #[default]
    English,
    /// German.
    German,
}

impl Language {
    /// All of them.
    pub const ALL: [Self; 2] = [Self::English, Self::German];

    /// Its code: ISO 639-1.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::German => "de",
        }
    }

    const fn catalogue(self) -> &'static str {
        match self {
            Self::English => include_str!("../../words/en.ftl"),
            Self::German => include_str!("../../words/de.ftl"),
        }
    }
}

impl Language {
    /// What findings say, where the model doesn't speak this language itself.
    const fn findings(self) -> &'static str {
        match self {
            Self::English => "",
            Self::German => include_str!("../../words/findings-de.ftl"),
        }
    }
}

/// What a sentence is told beside its key.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Told<'a> {
    /// A name or a word.
    Word(&'a str),
    /// A number of things, which chooses the plural form.
    Count(usize),
    /// A figure as shown in the report.
    Figure(&'a str),
    /// A figure that something is set by: it is written large.
    Set(&'a str),
}

/// One language's catalogue.
pub(crate) struct Words {
    language: Language,
    bundle: FluentBundle<FluentResource>,
}

impl Words {
    pub(crate) fn of(language: Language) -> Self {
        let name: LanguageIdentifier = language.code().parse().unwrap_or_default();
        let mut bundle = FluentBundle::new(vec![name]);
        bundle.set_use_isolating(false);
        // A catalogue that has a fault is read as far as it goes; the tests hold it to have none.
        for catalogue in [language.catalogue(), language.findings()] {
            let source = FluentResource::try_new(catalogue.to_owned()).unwrap_or_else(|(read, _)| read);
            bundle.add_resource_overriding(source);
        }
        Self { language, bundle }
    }

    pub(crate) const fn language(&self) -> Language {
        self.language
    }

    /// The message of a key; the key between angle brackets where there is none.
    pub(crate) fn say(&self, key: &str) -> String {
        self.with(key, &[])
    }

    /// The message of a key with what it is told.
    pub(crate) fn with(&self, key: &str, told: &[(&str, Told)]) -> String {
        let mut args = FluentArgs::new();
        for (name, what) in told {
            args.set(*name, self.value(what));
        }
        let pattern = self.bundle.get_message(key).and_then(|message| message.value());
        let Some(pattern) = pattern else { return format!("⟨{key}⟩") };
        let mut errors = Vec::new();
        let text = self.bundle.format_pattern(pattern, Some(&args), &mut errors);
        if errors.is_empty() { text.into_owned() } else { format!("⟨{key}: {text}⟩") }
    }

    /// Whether there is a message of this key.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.bundle.has_message(key)
    }

    /// The message for a name that the model gives in English: `turn-end-for-end`; the name itself where the catalogue
    /// hasn't got it (a maker's own word).
    pub(crate) fn name(&self, kind: &str, name: &str) -> String {
        let tail = tail(name);
        let key = format!("{kind}-{tail}");
        if self.has(&key) { self.say(&key) } else { figure::clean(name) }
    }

    /// What a finding says in this language: the general sentence of its check, and the figures with units of what it
    /// says in English; that itself where the model speaks this language.
    pub(crate) fn finding(&self, check: &str, says: &str) -> String {
        let key = format!("finding-{}", tail(check));
        if !self.has(&key) {
            return figure::clean(says);
        }
        let figures: Vec<String> = figure::with_units(says).iter().map(|shown| self.figure(shown)).collect();
        if figures.is_empty() {
            return self.say(&key);
        }
        format!("{} ({}: {})", self.say(&key), self.say("finding-figures"), figures.join("; "))
    }

    fn value<'a>(&self, told: &Told<'a>) -> FluentValue<'a> {
        match told {
            Told::Word(word) => FluentValue::String(Cow::Owned(figure::clean(word))),
            Told::Count(count) => FluentValue::from(*count),
            Told::Figure(shown) => FluentValue::String(Cow::Owned(self.figure(shown))),
            Told::Set(shown) => FluentValue::String(Cow::Owned(self.setting(shown))),
        }
    }

    /// A figure as it is written in this language, between its marks.
    pub(crate) fn figure(&self, shown: &str) -> String {
        format!("{TOLD}{}{END}", self.written(shown))
    }

    /// The same, written large.
    pub(crate) fn setting(&self, shown: &str) -> String {
        format!("{SET}{}{END}", self.written(shown))
    }

    /// In English as in the report; else its words from the catalogue and a decimal comma.
    fn written(&self, shown: &str) -> String {
        let shown = figure::clean(shown);
        match self.language {
            Language::English => shown,
            Language::German => {
                let mut text = shown;
                for (key, english) in figure::PHRASES {
                    if text.contains(english) {
                        text = text.replace(english, &self.say(key));
                    }
                }
                let words: Vec<String> = text.split(' ').map(|word| self.token(word)).collect();
                words.join(" ")
            }
        }
    }

    fn token(&self, word: &str) -> String {
        let bare = word.trim_end_matches([',', '.', ';']);
        match figure::WORDS.iter().find(|(_, english)| *english == bare) {
            Some((key, _)) => format!("{}{}", self.say(key), &word[bare.len()..]),
            None if bare.starts_with(|c: char| c.is_ascii_digit() || c == '-') => word.replace('.', ","),
            None => word.to_owned(),
        }
    }
}

/// A name as a key's end.
fn tail(name: &str) -> String {
    name.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect()
}

#[cfg(test)]
mod tests;
