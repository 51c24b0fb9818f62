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

/// Open the program in your browser
#[derive(Debug, Args)]
#[command(group = ArgGroup::new("others").args(["listen", "behind_proxy"]).multiple(true))]
pub(crate) struct Arguments {
    /// Port on this machine; 0 means any free one
    #[arg(
        long,
        value_name = "PORT",
        default_value_t = 8765,
        conflicts_with = "listen"
    )]
    port: u16,
    /// Let other machines in at this address, as in "192.168.1.5:8765"; set a passcode first
    #[arg(long, value_name = "ADDRESS")]
    listen: Option<SocketAddr>,
    /// Let other machines in through a proxy on this machine (see `understudy help browser`); set a passcode first
    #[arg(long)]
    behind_proxy: bool,
    /// The name other machines use for this one
    #[arg(long = "name", value_name = "NAME", requires = "others")]
    names: Vec<String>,
    /// Set the passcode for other machines: type one line
    #[arg(long, conflicts_with_all = ["listen", "port", "behind_proxy"])]
    set_passcode: bool,
}

/// What is said where others could come in past the proxy.
const NO_PROXY: &str = "with --behind-proxy only the proxy on this machine may connect: leave out --listen, or write an address of this machine such as 127.0.0.1:8765";

/// What is said where nothing keeps others from reading along.
const IN_THE_CLEAR: &str = "nothing sent to other machines is encrypted, not even the passcode: use this only in a network whose users you trust, or use a proxy with TLS and --behind-proxy (`understudy help browser` shows how)";

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
        "the address {address} cannot be used: {error}; choose another with --port or --listen"
    ))
}

fn set_passcode(path: &Path, db: &Db, output: &Output) -> Result<(), Failure> {
    remark("type the passcode and press Enter");
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
