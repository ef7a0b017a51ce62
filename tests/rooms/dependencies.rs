//! What is linked: licences that may be passed on, and nothing that opens a connection.

use std::process::Command;

use serde_json::Value;

/// Licences under which a crate may be part of the binary; of alternatives one is enough.
const PERMITTED: [&str; 12] = [
    "MIT",
    "MIT-0",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "0BSD",
    "CC0-1.0",
    "IJG",
    "Unicode-3.0",
    "Zlib",
];

/// Parts of the names of crates that open connections, or link a library that does.
const CONNECTED: [&str; 16] = [
    "http",
    "curl",
    "reqwest",
    "ureq",
    "hyper",
    "tokio",
    "mio",
    "socket",
    "rustls",
    "native-tls",
    "openssl",
    "quinn",
    "dns",
    "ssh2",
    "git2",
    "async-std",
];

/// The crates that are built for this machine.
fn crates() -> Vec<Value> {
    let rustc = Command::new("rustc").arg("-vV").output().unwrap();
    let said = String::from_utf8(rustc.stdout).unwrap();
    let host = said.lines().find_map(|line| line.strip_prefix("host: ")).unwrap();
    let metadata = Command::new(env!("CARGO"))
        .args(["metadata", "--locked", "--format-version", "1", "--filter-platform", host])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    assert!(metadata.status.success(), "{}", String::from_utf8_lossy(&metadata.stderr));
    let all: Value = serde_json::from_slice(&metadata.stdout).unwrap();
    let linked: Vec<&Value> =
        all["resolve"]["nodes"].as_array().unwrap().iter().map(|node| &node["id"]).collect();
    let packages = all["packages"].as_array().unwrap().iter();
    packages.filter(|package| linked.contains(&&package["id"])).cloned().collect()
}

/// Whether a licence expression (SPDX; a stroke is an older `OR`) leaves a choice of permitted ones.
fn is_permitted(expression: &str) -> bool {
    let flat = expression.replace(['(', ')'], " ").replace('/', " OR ");
    // `OR` binds less than `AND`, but no crate here has `A OR B AND C` without brackets around the choice.
    flat.split(" AND ").all(|needed| needed.split(" OR ").any(|one| PERMITTED.contains(&one.trim())))
}

#[test]
fn every_crate_has_a_licence_that_may_be_passed_on() {
    for package in crates() {
        let licence = package["license"].as_str().unwrap_or("none");
        assert!(is_permitted(licence), "{}: {licence}", package["name"]);
    }
    assert!(
        !is_permitted("GPL-3.0-only")
            && !is_permitted("MIT AND GPL-3.0-only")
            && is_permitted("GPL-2.0 OR MIT")
    );
}

#[test]
fn no_crate_opens_a_connection() {
    let names: Vec<String> =
        crates().iter().map(|package| package["name"].as_str().unwrap().to_owned()).collect();
    let connected = names.iter().filter(|name| CONNECTED.iter().any(|part| name.contains(part)));
    assert_eq!(connected.collect::<Vec<_>>(), Vec::<&String>::new());
    assert!(names.iter().any(|name| name == "typst"), "the list is that of the binary");
    for (path, code) in super::files() {
        assert!(!code.contains("std::net"), "{}", path.display());
    }
}
