//! Metadata of a table of comma-separated values after the W3C's Metadata Vocabulary for Tabular Data
//! (<https://www.w3.org/TR/tabular-metadata/>): what each column holds, and which columns name a row.

use super::rows::Table;
use serde_json::json;

/// The metadata of the table in a file of that name, as JSON text.
pub(super) fn metadata(file: &str, title: &str, table: &Table) -> String {
    let key: Vec<&str> = ["part", "id"]
        .into_iter()
        .filter(|key| table.columns.iter().any(|column| column.name == *key))
        .collect();
    let columns: Vec<_> = table
        .columns
        .iter()
        .map(|column| {
            json!({
                "name": column.name,
                "titles": column.name,
                "dc:description": column.about,
                "datatype": if column.number { "number" } else { "string" },
                "required": key.contains(&column.name.as_str()),
            })
        })
        .collect();
    let metadata = json!({
        "@context": ["http://www.w3.org/ns/csvw", { "@language": "en" }],
        "url": address(file),
        "dc:title": title,
        "dialect": { "encoding": "utf-8", "delimiter": ",", "header": true, "lineTerminators": ["\n", "\r\n"] },
        "tableSchema": { "columns": columns, "primaryKey": key },
    });
    // Plain data always becomes text.
    serde_json::to_string_pretty(&metadata).unwrap_or_default() + "\n"
}

/// A file's name as a relative address: what an address cannot hold is written in per cent (RFC 3986).
fn address(file: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-._~".contains(&byte);
    let mut address = String::with_capacity(file.len());
    for byte in file.bytes() {
        if plain(byte) {
            address.push(char::from(byte));
        } else {
            address.extend(["%", &format!("{byte:02X}")]);
        }
    }
    address
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_files_become_addresses() {
        assert_eq!(address("figures.csv"), "figures.csv");
        assert_eq!(address("cell µ:1.csv"), "cell%20%C2%B5%3A1.csv");
    }
}
