//! A long list, a page at a time: which page is asked for, what it shows of how many, and the ways to the others.

use std::ops::Range;

/// How many things a page shows (own choice: what a phone draws at once, and a thumb scrolls through).
pub(crate) const ON_A_PAGE: usize = 100;

/// One page of a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Page {
    number: usize,
    all: usize,
}

/// What is said of a page, and the ways to the others.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Pages {
    /// What the list is of: "Photographs".
    pub(crate) what: &'static str,
    /// "Photographs 101 to 200 of 2345".
    pub(crate) description: String,
    /// Where each way leads, and what it is called.
    pub(crate) ways: Vec<(String, &'static str)>,
}

impl Page {
    /// The page that is asked for of a list so long, the first when none is; the last for one behind the end, for a list
    /// may have become shorter. None for what is no page's number.
    pub(crate) fn of(asked: Option<&str>, all: usize) -> Option<Self> {
        let number: usize = match asked {
            Some(text) => text.parse().ok().filter(|number| *number > 0)?,
            None => 1,
        };
        Some(Self { number: number.min(last(all)), all })
    }

    /// Which things of the list it shows.
    pub(crate) fn range(&self) -> Range<usize> {
        let from = (self.number - 1) * ON_A_PAGE;
        from..self.all.min(from + ON_A_PAGE)
    }

    /// The things of a list that it shows.
    pub(crate) fn part<'a, T>(&self, list: &'a [T]) -> &'a [T] {
        list.get(self.range()).unwrap_or_default()
    }

    /// What is said of it; nothing where one page shows all. `to` gives the address of a page by its number.
    pub(crate) fn describe(&self, what: &'static str, to: impl Fn(usize) -> String) -> Option<Pages> {
        let (all, last) = (self.all, last(self.all));
        if last == 1 {
            return None;
        }
        let shown = self.range();
        let mut ways = Vec::new();
        if self.number > 1 {
            ways.extend([(to(1), "First page"), (to(self.number - 1), "Page before")]);
        }
        if self.number < last {
            ways.extend([(to(self.number + 1), "Next page"), (to(last), "Last page")]);
        }
        Some(Pages { what, description: format!("{what} {} to {} of {all}", shown.start + 1, shown.end), ways })
    }
}

/// The number of the last page of a list so long.
fn last(all: usize) -> usize {
    all.div_ceil(ON_A_PAGE).max(1)
}

#[cfg(test)]
mod tests {
    use super::Page;

    fn shown(asked: Option<&str>, all: usize) -> Option<(usize, usize)> {
        Page::of(asked, all).map(|page| (page.range().start, page.range().end))
    }

    #[test]
    fn pages_have_a_hundred_things_and_the_last_one_the_rest() {
        for (asked, all, expected) in [
            (None, 0, Some((0, 0))),
            (None, 100, Some((0, 100))),
            (None, 101, Some((0, 100))),
            (Some("2"), 101, Some((100, 101))),
            (Some("24"), 2_345, Some((2_300, 2_345))),
            (Some("25"), 2_345, Some((2_300, 2_345))),
            (Some("99999999999"), 0, Some((0, 0))),
            (Some("0"), 500, None),
            (Some("-1"), 500, None),
            (Some("x"), 500, None),
            (Some(""), 500, None),
            (Some("99999999999999999999999"), 500, None),
        ] {
            assert_eq!(shown(asked, all), expected, "{asked:?} of {all}");
        }
    }

    #[test]
    fn a_page_says_what_it_shows_of_how_many_and_leads_to_the_others() {
        let describe =
            |asked, all| Page::of(Some(asked), all).unwrap().describe("Entries", |page| format!("?page={page}"));
        assert_eq!(describe("1", 100), None);
        let middle = describe("2", 2_345).unwrap();
        assert_eq!(middle.description, "Entries 101 to 200 of 2345");
        let ways: Vec<(&str, &str)> = middle.ways.iter().map(|(to, words)| (to.as_str(), *words)).collect();
        let all = [
            ("?page=1", "First page"),
            ("?page=1", "Page before"),
            ("?page=3", "Next page"),
            ("?page=24", "Last page"),
        ];
        assert_eq!(ways, all);
        assert_eq!(describe("1", 101).unwrap().ways.len(), 2);
        assert_eq!(describe("24", 2_345).unwrap().description, "Entries 2301 to 2345 of 2345");
        let everything: Vec<u32> = (0..250).collect();
        assert_eq!(Page::of(Some("3"), 250).unwrap().part(&everything), &everything[200..]);
    }
}
