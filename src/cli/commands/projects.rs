//! Projects: what you mean to make, in the order in which it matters.

use crate::{
    app::{self, Which},
    cli::{
        arguments::Once,
        db::Db,
        output::{Failure, Output},
    },
};
use clap::{Args, Subcommand};

/// List what you mean to make; add, edit, move or remove projects, choose yarns for them
#[derive(Debug, Args)]
pub(crate) struct ProjectArguments {
    #[command(subcommand)]
    action: ProjectAction,
}

#[derive(Debug, Subcommand)]
enum ProjectAction {
    /// Add a project: a pattern in a size
    Add {
        #[command(flatten)]
        request: app::AddProjectRequest,
        #[command(flatten)]
        once: Once,
    },
    /// List your projects, with the yarn reserved for each
    List,
    /// Move a project to another place: 1 matters most
    Move {
        /// Its name, or its place in `project list`
        project: String,
        /// Its new place
        #[arg(value_name = "N")]
        rank: String,
        #[command(flatten)]
        once: Once,
    },
    /// Change the name of a project, its size, or what you want of the yarn
    ///
    /// What you do not give stays. Yarn reserved for it stays reserved under a new name.
    Edit {
        /// Its name, or its place in `project list`
        project: String,
        #[command(flatten)]
        request: app::EditProjectRequest,
        #[command(flatten)]
        once: Once,
    },
    /// Choose the yarn for a project yourself
    Pin {
        /// Its name, or its place in `project list`
        project: String,
        #[command(flatten)]
        request: app::PinRequest,
        #[command(flatten)]
        once: Once,
    },
    /// Let the plan choose the yarn for a project again
    Unpin {
        /// Its name, or its place in `project list`
        project: String,
        /// Only for this yarn of the pattern
        ///
        /// Its key, as in: MC
        #[arg(long = "for", value_name = "KEY")]
        role: Option<String>,
        #[command(flatten)]
        once: Once,
    },
    /// Remove a project, and release the yarn reserved for it
    Remove {
        /// Its name, or its place in `project list`
        project: String,
        #[command(flatten)]
        once: Once,
    },
}

pub(super) fn project(
    arguments: ProjectArguments,
    db: &Db,
    output: &Output,
) -> Result<(), Failure> {
    let records = |once: Once| db.existing().map(|records| records.once(once.text));
    let change = match arguments.action {
        ProjectAction::List => return output.answer(&app::list_projects(&db.existing()?)?),
        ProjectAction::Add { request, once } => app::add_project(&mut records(once)?, &request),
        ProjectAction::Move {
            project,
            rank,
            once,
        } => app::move_project(&mut records(once)?, Which::Named(&project), &rank),
        ProjectAction::Edit {
            project,
            request,
            once,
        } => app::edit_project(&mut records(once)?, Which::Named(&project), &request),
        ProjectAction::Pin {
            project,
            request,
            once,
        } => app::pin_yarn(&mut records(once)?, Which::Named(&project), &request),
        ProjectAction::Unpin {
            project,
            role,
            once,
        } => app::unpin_yarn(&mut records(once)?, Which::Named(&project), role.as_deref()),
        ProjectAction::Remove { project, once } => {
            app::remove_project(&mut records(once)?, Which::Named(&project))
        }
    };
    output.change(&change?)
}
