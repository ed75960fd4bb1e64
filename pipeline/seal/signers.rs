//! The list of signers: whose key, for what, from when to when. The form is that of `ALLOWED SIGNERS` in
//! the manual page of `ssh-keygen`, so that it serves there as it is.

use super::{Moment, NAMESPACE, PublicKey};

/// One key of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signer {
    /// Who.
    pub principals: Vec<String>,
    /// For which purposes; any where there are none.
    pub namespaces: Vec<String>,
    /// From when its seals count.
    pub after: Option<Moment>,
    /// Until when.
    pub before: Option<Moment>,
    /// The key.
    pub key: PublicKey,
}

/// A line that can not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineFault {
    /// Counted from 1.
    pub line: usize,
    /// What is wrong.
    pub why: String,
}

/// All keys, in the order of the list.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Signers(pub Vec<Signer>);

impl Signer {
    /// A key of this studio's, from a day on.
    pub fn of_studio(principal: String, key: PublicKey, after: Moment) -> Signer {
        Signer {
            principals: vec![principal],
            namespaces: vec![NAMESPACE.to_string()],
            after: Some(after),
            before: None,
            key,
        }
    }

    /// Whether its seals count on a day, given by the day's first moment.
    pub fn counts_on(&self, day: Moment) -> bool {
        self.after.is_none_or(|after| after <= day.end_of_day())
            && self.before.is_none_or(|before| before >= day)
    }

    /// Whether it may sign bundles.
    pub fn seals_bundles(&self) -> bool {
        let fits = |pattern: &String| glob(pattern.as_bytes(), NAMESPACE.as_bytes());
        self.namespaces.is_empty() || self.namespaces.iter().any(fits)
    }

    fn line(&self) -> String {
        let mut options = Vec::new();
        if !self.namespaces.is_empty() {
            options.push(format!("namespaces=\"{}\"", self.namespaces.join(",")));
        }
        options.extend(
            self.after
                .map(|m| format!("valid-after=\"{}\"", m.in_list())),
        );
        options.extend(
            self.before
                .map(|m| format!("valid-before=\"{}\"", m.in_list())),
        );
        let mut fields = vec![self.principals.join(",")];
        if !options.is_empty() {
            fields.push(options.join(","));
        }
        fields.push(self.key.line());
        fields.join(" ")
    }
}

impl Signers {
    /// Reads a list; every line that can not be read is told.
    pub fn parse(text: &str) -> (Signers, Vec<LineFault>) {
        let (mut all, mut faults) = (Vec::new(), Vec::new());
        for (number, line) in text.lines().enumerate() {
            let line = line.trim();
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            match signer(line) {
                Ok(signer) => all.push(signer),
                Err(why) => faults.push(LineFault {
                    line: number + 1,
                    why,
                }),
            }
        }
        (Signers(all), faults)
    }

    /// The list as text.
    pub fn to_text(&self) -> String {
        self.0.iter().map(|signer| signer.line() + "\n").collect()
    }

    /// The entries of a key that may seal bundles.
    pub fn of<'a>(&'a self, key: &'a PublicKey) -> impl Iterator<Item = &'a Signer> {
        self.0.iter().filter(|s| s.key.is(key) && s.seals_bundles())
    }

    /// The key whose time has no end, if any.
    pub fn current(&self) -> Option<&Signer> {
        self.0
            .iter()
            .rev()
            .find(|s| s.before.is_none() && s.seals_bundles())
    }

    /// Ends the time of every key that has no end yet.
    pub fn close(&mut self, until: Moment) {
        for signer in self.0.iter_mut().filter(|s| s.before.is_none()) {
            signer.before = Some(until);
        }
    }
}

fn signer(line: &str) -> Result<Signer, String> {
    let (principals, rest) = field(line);
    let (second, after_second) = field(rest);
    let (options, key) = if second.starts_with("ssh-") {
        ("", rest)
    } else {
        (second, after_second)
    };
    let mut made = Signer {
        principals: principals.split(',').map(str::to_string).collect(),
        namespaces: Vec::new(),
        after: None,
        before: None,
        key: PublicKey::from_line(key).map_err(|e| e.to_string())?,
    };
    for option in split_outside_quotes(options) {
        let (name, value) = option.split_once('=').unwrap_or((option, ""));
        let value = value.trim_matches('"');
        let moment =
            || Moment::parse(value).ok_or_else(|| format!("`{value}` is no day (YYYYMMDD)"));
        match name.to_ascii_lowercase().as_str() {
            "namespaces" => made.namespaces = value.split(',').map(str::to_string).collect(),
            "valid-after" => made.after = Some(moment()?),
            "valid-before" => made.before = Some(moment()?),
            "" => {}
            other => return Err(format!("the option `{other}` is not known here")),
        }
    }
    Ok(made)
}

/// The first field and what follows it; blanks inside quotation marks part nothing.
fn field(line: &str) -> (&str, &str) {
    let line = line.trim_start();
    let mut quoted = false;
    let end = line.find(|c: char| {
        quoted ^= c == '"';
        c.is_whitespace() && !quoted
    });
    line.split_at(end.unwrap_or(line.len()))
}

fn split_outside_quotes(text: &str) -> Vec<&str> {
    let mut quoted = false;
    text.split(|c: char| {
        quoted ^= c == '"';
        c == ',' && !quoted
    })
    .collect()
}

/// `*` stands for any signs, `?` for one, as in OpenSSH's patterns.
fn glob(pattern: &[u8], text: &[u8]) -> bool {
    match (pattern.split_first(), text.split_first()) {
        (None, None) => true,
        (Some((b'*', rest)), _) if glob(rest, text) => true,
        (Some((b'*', _)), Some((_, after))) => glob(pattern, after),
        (Some((b'?', rest)), Some((_, after))) => glob(rest, after),
        (Some((p, rest)), Some((t, after))) if p == t => glob(rest, after),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const KEY: &str =
        "ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAINdamAGCsQq31Uv+08lkBzoO4XLz2qYjJa8CGmj3B1Ea";

    #[test]
    fn a_list_of_forty_years_is_read_and_written_again() {
        let text = format!(
            "# the studio's keys\n\nquay namespaces=\"offloom-bundle\",valid-after=\"20260702Z\",valid-before=\"20410101Z\" {KEY} old\n\
             a@b.example,quay {KEY}\nquay namespaces=\"file,git\" {KEY}\n"
        );
        let (signers, faults) = Signers::parse(&text);
        assert!(faults.is_empty(), "{faults:?}");
        assert_eq!(signers.0.len(), 3);
        assert_eq!(
            Signers::parse(&signers.to_text()),
            (signers.clone(), Vec::new())
        );
        let old = &signers.0[0];
        let on = |day: &str| old.counts_on(Moment::of_day(day).unwrap());
        assert!(on("2026-07-02") && on("2040-12-31") && on("2041-01-01"));
        assert!(!on("2026-07-01") && !on("2041-01-02"));
        assert_eq!(
            signers.of(&old.key).count(),
            2,
            "a key for other purposes seals no bundle"
        );
        assert_eq!(signers.current(), Some(&signers.0[1]));
    }

    #[test]
    fn a_closed_key_counts_no_more() {
        let (mut signers, _) = Signers::parse(&format!("quay {KEY}\n"));
        signers.close(Moment::of_day("2031-05-01").unwrap());
        assert_eq!(signers.current(), None);
        assert!(signers.to_text().contains("valid-before=\"20310501Z\""));
    }

    #[test]
    fn a_line_that_can_not_be_read_is_told() {
        let (signers, faults) = Signers::parse(&format!(
            "quay\nquay valid-after=\"tomorrow\" {KEY}\nquay cert-authority {KEY}\nquay ssh-rsa AAAA\n"
        ));
        assert!(signers.0.is_empty());
        let lines: Vec<usize> = faults.iter().map(|f| f.line).collect();
        assert_eq!(lines, [1, 2, 3, 4]);
    }

    #[test]
    fn patterns_of_purposes_are_those_of_openssh() {
        for (pattern, fits) in [
            ("offloom-bundle", true),
            ("offloom-*", true),
            ("*", true),
            ("offloom-bundl?", true),
            ("file", false),
            ("offloom", false),
        ] {
            assert_eq!(
                glob(pattern.as_bytes(), NAMESPACE.as_bytes()),
                fits,
                "{pattern}"
            );
        }
    }

    #[test]
    fn only_days_and_times_are_moments() {
        for good in ["20260702", "20260702Z", "202607021200", "20260702120059Z"] {
            assert_eq!(
                Moment::parse(good).unwrap().to_string(),
                "2026-07-02",
                "{good}"
            );
        }
        for bad in [
            "",
            "2026",
            "20261301",
            "20260732",
            "2026070224",
            "20260702x",
            "202607022460",
        ] {
            assert_eq!(Moment::parse(bad), None, "{bad}");
        }
        assert_eq!(Moment::of_day("2026-7-2"), None);
    }
}
