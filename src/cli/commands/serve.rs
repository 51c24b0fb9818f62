//! `serve`

use crate::{
    app,
    cli::{
        db::Db,
        output::{Failure, Output, remark},
    },
    report::Notice,
    web::{self, AppState, PageServer},
};
use clap::{ArgGroup, Args};
use std::{
    io::{self, BufRead},
    net::{Ipv4Addr, SocketAddr},
    path::Path,
};

/// Open the program as a page in the browser of this machine
#[derive(Debug, Args)]
#[command(group = ArgGroup::new("others").args(["listen", "behind_proxy"]).multiple(true))]
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
    /// A proxy on this machine passes on what others ask, as the README shows; a passcode must be set
    #[arg(long)]
    behind_proxy: bool,
    /// A name by which other machines call this one
    #[arg(long = "name", value_name = "NAME", requires = "others")]
    names: Vec<String>,
    /// Set the passcode that other machines must give: one line on standard input
    #[arg(long, conflicts_with_all = ["listen", "port", "behind_proxy"])]
    set_passcode: bool,
}

/// What is said where others could come in past the proxy.
const NO_PROXY: &str = "with --behind-proxy only the proxy on this machine may come in: leave --listen out, or give it an address of this machine such as 127.0.0.1:8765";

/// What is said where nothing keeps others from reading along.
const IN_THE_CLEAR: &str = "what goes to other machines is not encrypted, the passcode neither: do this only in a network whose users you trust, or use a proxy with TLS and --behind-proxy (the README shows how)";

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let path = db.path()?;
    if arguments.set_passcode {
        return set_passcode(&path, db, output);
    }
    let here = SocketAddr::from((Ipv4Addr::LOCALHOST, arguments.port));
    let address = arguments.listen.unwrap_or(here);
    let is_open = !address.ip().is_loopback();
    let mut shop = AppState::of(&path, db.open()?).with_names(arguments.names);
    if is_open && arguments.behind_proxy {
        return Err(Failure::Usage(NO_PROXY.to_owned()));
    }
    if is_open || arguments.behind_proxy {
        shop = shop.with_passcode()?;
    }
    if arguments.behind_proxy {
        shop = shop.behind_proxy();
    }
    if is_open {
        remark(IN_THE_CLEAR);
    }
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

fn set_passcode(path: &Path, db: &Db, output: &Output) -> Result<(), Failure> {
    remark("write the passcode and press Enter");
    let mut line = String::new();
    let read = io::stdin().lock().read_line(&mut line);
    read.map_err(|error| {
        Failure::Usage(format!(
            "the passcode cannot be read ({error}): write one line of text"
        ))
    })?;
    let passcode = line.trim_end_matches(['\r', '\n']);
    let hash = web::hashed(passcode).map_err(Failure::Usage)?;
    db.open()?;
    app::keep_passcode(path, &hash)?;
    output.change(&Notice {
        done: "The passcode is set".to_owned(),
        ..Notice::default()
    })
}
