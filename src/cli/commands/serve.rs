//! `serve`

use crate::{
    app,
    cli::{
        db::Db,
        output::{Failure, Output, remark},
    },
    web::{self, AppState, PageServer},
};
use clap::Args;
use std::{
    io::{self, BufRead},
    net::{Ipv4Addr, SocketAddr},
    path::Path,
};

/// Open the program as a page in the browser of this machine
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// Port on this machine; 0 takes any that is free
    #[arg(
        long,
        value_name = "PORT",
        default_value_t = 8765,
        conflicts_with = "listen"
    )]
    port: u16,
    /// Listen to other machines at this address, as in "192.168.1.5:8765"; a passcode must be set
    #[arg(long, value_name = "ADDRESS")]
    listen: Option<SocketAddr>,
    /// A name by which other machines call this one
    #[arg(long = "name", value_name = "NAME", requires = "listen")]
    names: Vec<String>,
    /// Set the passcode that other machines must give: one line on standard input
    #[arg(long, conflicts_with_all = ["listen", "port"])]
    set_passcode: bool,
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let path = db.path()?;
    if arguments.set_passcode {
        return set_passcode(&path, output);
    }
    let shop = AppState::open(&path)?.with_names(arguments.names);
    let (shop, address) = match arguments.listen {
        Some(address) if !address.ip().is_loopback() => {
            (shop.with_passcode(passcode(&path)?), address)
        }
        Some(address) => (shop, address),
        None => (
            shop,
            SocketAddr::from((Ipv4Addr::LOCALHOST, arguments.port)),
        ),
    };
    let listening = PageServer::at(address).map_err(|error| no_address(address, &error))?;
    output.text(&format!(
        "Open http://{} in a browser. Ctrl-C stops.\n",
        listening.address
    ))?;
    web::serve(listening, shop);
    Ok(())
}

fn no_address(address: SocketAddr, error: &io::Error) -> Failure {
    Failure::Refused(format!(
        "nothing can listen at {address}: {error}; choose another with --port or --listen"
    ))
}

/// The hash that other machines' passcodes are compared with.
fn passcode(path: &Path) -> Result<String, Failure> {
    app::kept_passcode(path)?.ok_or_else(|| {
        Failure::Usage(
            "other machines may come in only with a passcode, and none is set: run `understudy serve --set-passcode` first"
                .to_owned(),
        )
    })
}

fn set_passcode(path: &Path, output: &Output) -> Result<(), Failure> {
    remark("write the passcode and press Enter");
    let mut line = String::new();
    io::stdin().lock().read_line(&mut line)?;
    let passcode = line.trim_end_matches(['\r', '\n']);
    let hash = web::hashed(passcode).map_err(Failure::Usage)?;
    app::Records::open(path)?;
    app::keep_passcode(path, &hash)?;
    output.text("The passcode is set.\n")
}
