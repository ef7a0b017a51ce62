//! stub
use super::*;
#[derive(Debug, clap::Args)]
/// x
pub(super) struct Arguments {
    #[command(flatten)]
    project: Project,
}
pub(super) fn run(_: &Arguments) -> Ended {
    Ok(Outcome::Clean)
}
