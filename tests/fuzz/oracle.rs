//! What an answer must be, whatever was asked: an answer that is sound, or problems that each say where, what and what
//! would be right, in bounded words.

use serde_json::Value;

/// Longest message, and all messages together, characters.
const LONGEST: usize = 2_000;
const LONGEST_ALL: usize = 60_000;

/// Whether it is an answer; what is wrong with it where it is neither that nor problems.
pub(crate) type Verdict = Result<bool, String>;

/// What an answer as JSON text must be; its value where there is one.
pub(crate) fn sound(text: &str) -> Result<Option<Value>, String> {
    let answer: Value = serde_json::from_str(text).map_err(|error| format!("no JSON: {error}"))?;
    let Some(ok) = answer.get("ok") else {
        problems(&answer["problems"])?;
        return Ok(None);
    };
    figures(ok, "")?;
    Ok(Some(ok.clone()))
}

/// Problems as they are told to programs.
pub(crate) fn problems(answered: &Value) -> Result<(), String> {
    let list = answered.as_array().filter(|list| !list.is_empty()).ok_or("neither answer nor problem")?;
    let mut length = 0;
    for problem in list {
        for part in ["place", "found", "expected", "text"] {
            let text = problem[part].as_str().unwrap_or_default();
            if text.trim().is_empty() {
                return Err(format!("a problem without \"{part}\": {problem}"));
            }
            if let Some(c) = text.chars().find(|c| obeyed(*c)) {
                return Err(format!("U+{:04X} in a problem's \"{part}\"", u32::from(c)));
            }
        }
        let text = problem["text"].as_str().unwrap_or_default();
        let count = text.chars().count();
        length += count;
        if count > LONGEST {
            return Err(format!("a message of {count} characters at {}", problem["place"]));
        }
        if let Some(debug) =
            ["Some(", "None)", "Ok(", "Err(", "\\u{"].iter().find(|debug| text.contains(**debug))
        {
            return Err(format!("\"{debug}\" in a message: {text}"));
        }
        worded(problem)?;
        no_figure(text).map_err(|word| format!("\"{word}\" in a message: {text}"))?;
    }
    if length > LONGEST_ALL { Err(format!("{length} characters of messages")) } else { Ok(()) }
}

/// A message reads "found …; expected …", and its third part leaves that word to the message.
fn worded(problem: &Value) -> Result<(), String> {
    let part = |part: &str| problem[part].as_str().unwrap_or_default();
    let said = format!("found {}; expected {}", part("found"), part("expected"));
    if !part("text").ends_with(&said) || part("expected").starts_with("expected") {
        return Err(format!("a message without \"found …; expected …\": {problem}"));
    }
    Ok(())
}

/// What a terminal would obey, or what would turn a line around.
pub(crate) fn obeyed(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200E}' | '\u{200F}' | '\u{061C}' | '\u{2028}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// Words that stand where there is no figure.
fn no_figure(text: &str) -> Result<(), &'static str> {
    // What somebody wrote stands in quotation marks, and may hold one itself: then it reaches from the first to the last.
    let parts: Vec<&str> = text.split('"').collect();
    let ends = [parts.first(), parts.last()].map(|end| end.copied().unwrap_or_default());
    let own: Vec<&str> =
        if parts.len() % 2 == 1 { parts.into_iter().step_by(2).collect() } else { ends.to_vec() };
    for part in own {
        for word in ["not a number", "beyond range", "NaN", "inf ", "-inf", "infinity"] {
            if part.contains(word) {
                return Err(word);
            }
        }
    }
    Ok(())
}

/// Every figure in an answer: finite, with an uncertainty that is not negative, and words that say a number.
fn figures(value: &Value, at: &str) -> Result<(), String> {
    match value {
        Value::Object(keys) => {
            if let (Some(number), Some(text)) = (keys.get("value"), keys.get("text"))
                && let Some(text) = text.as_str()
            {
                let number = number.as_f64();
                let Some(number) = number else {
                    return if keys.get("value").is_some_and(Value::is_string) {
                        Ok(())
                    } else {
                        Err(format!("no number at {at}: {value}"))
                    };
                };
                no_figure(text).map_err(|word| format!("\"{word}\" at {at}"))?;
                if let Some(u) = keys.get("u") {
                    let u = u.as_f64().ok_or_else(|| format!("no uncertainty at {at}: {value}"))?;
                    if u < 0.0 {
                        return Err(format!("an uncertainty of {u} at {at}"));
                    }
                }
                // An end that is not there is open: "at least 290 Wh/kg".
                if let (Some(low), Some(high)) = (keys.get("low"), keys.get("high"))
                    && low.as_f64().zip(high.as_f64()).is_some_and(|(low, high)| low > high)
                {
                    return Err(format!("an interval of {low} to {high} at {at}"));
                }
                // What is so small against everything else is rounding, unless it stands out of its uncertainty.
                let stands_out =
                    keys.get("u").and_then(Value::as_f64).is_some_and(|u| u > 0.0 && number.abs() > u);
                if text.contains("e−1") && number.abs() < 1e-9 && !stands_out {
                    return Err(format!("rounding told as a figure at {at}: {text}"));
                }
            }
            keys.iter().try_for_each(|(key, of)| figures(of, &format!("{at}.{key}")))
        }
        Value::Array(items) => items.iter().try_for_each(|of| figures(of, at)),
        _ => Ok(()),
    }
}

fn number(value: &Value) -> f64 {
    value["value"].as_f64().unwrap_or(f64::NAN)
}

/// An estimate: nothing weighs or takes up less than nothing, and the ledger closes.
pub(crate) fn estimate(answer: &Value) -> Result<(), String> {
    let lines = answer["ledger"]["lines"].as_array().ok_or("no ledger")?;
    let totals = answer["ledger"]["totals"].as_array().ok_or("no totals")?;
    let cell = totals.iter().find(|total| total["group"] == "cell").ok_or("no cell among the totals")?;
    let (mut mass, mut volume) = (0.0, 0.0);
    for line in lines {
        let of = line["mass"].get("value").map_or(0.0, |_| number(&line["mass"]));
        if !(of >= 0.0) {
            return Err(format!("a mass of {of} g: {}", line["line"]));
        }
        if !(number(&line["volume"]) >= 0.0) {
            return Err(format!("a volume of {} cm³: {}", number(&line["volume"]), line["line"]));
        }
        mass += of;
        volume += number(&line["volume"]);
    }
    for (name, sum, total) in
        [("mass", mass, number(&cell["mass"])), ("volume", volume, number(&cell["volume"]))]
    {
        if !((sum - total).abs() <= 1e-9 * total.abs()) {
            return Err(format!("the ledger's {name} is {sum}, its lines add to {total}"));
        }
    }
    for row in answer["headline"].as_array().ok_or("no headline")? {
        let value = number(&row["figure"]);
        let sign = row["id"].as_str().unwrap_or_default();
        if matches!(sign, "capacity" | "mass" | "volumetric" | "gravimetric" | "energy") && !(value > 0.0) {
            return Err(format!("{sign} of {value}"));
        }
        if row["figure"]["low"].as_f64().is_some_and(|low| low < 0.0) {
            return Err(format!("an interval of {sign} from below zero"));
        }
    }
    Ok(())
}
