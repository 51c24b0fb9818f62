//! A knitter plans what to make next.

use super::Visit;
use crate::desk::sample;

/// The sample stash with all its patterns.
async fn visit(script: bool) -> Option<Visit> {
    let visit = Visit::begin(script).await?;
    for table in ["yarns", "stock"] {
        visit
            .desk
            .text(&["import", table, &sample(&format!("{table}.csv"))]);
    }
    for pattern in ["skerrablet", "jotterhelm", "mirrowhist", "hobplate"] {
        let file = sample(&format!("patterns/{pattern}.toml"));
        visit.desk.text(&["import", "pattern", &file]);
    }
    Some(visit)
}

#[tokio::test]
async fn a_knitter_plans_chooses_moves_and_reserves() {
    plans(true).await;
}

#[tokio::test]
async fn a_knitter_plans_with_script_off() {
    plans(false).await;
}

async fn plans(script: bool) {
    let Some(visit) = visit(script).await else {
        return;
    };
    visit.go("/plan").await;
    visit.told("What do you want to make?").await;
    visit.look("plan-empty").await;
    for pattern in [
        "Skerrablet, size M",
        "Jotterhelm, size adult",
        "Skerrablet, size XL",
    ] {
        visit.type_into("add-pattern", pattern).await;
        visit.click("#add button.main").await;
        visit.told("added").await;
    }
    visit.told("3. Skerrablet XL").await;
    visit.look("plan").await;
    visit.click("#project-3 button[value=up]").await;
    visit.told("2. Skerrablet XL").await;
    visit.click("#project-1 option:nth-child(3)").await;
    visit.click("#project-1 button.main").await;
    visit.told("Yarn chosen for Skerrablet M").await;
    visit.look("plan-chosen").await;
    visit.click("#reserve button").await;
    visit.told("Yarn reserved for").await;
    visit.told("Reserved for it:").await;
    visit.look("plan-reserved").await;
    visit.desk.text(&["pattern", "remove", "Jotterhelm"]);
    visit.go("/plan").await;
    visit.told("pattern was removed").await;
    visit.click("#project-2 button[value=remove]").await;
    visit.told("Project Jotterhelm adult removed").await;
    visit.go("/plan/try").await;
    visit.told("Choice 1").await;
    visit.look("plan-try").await;
}
