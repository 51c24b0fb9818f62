//! A knitter plans what to make next.

use super::Visit;
use crate::desk::sample;
use fantoccini::Locator;

impl Visit {
    /// What the plan says of a project, above the form of it.
    async fn yarn_of(&self, project: usize) -> String {
        let path = format!("//form[@id='project-{project}']/preceding-sibling::section[1]");
        let section = self.client.find(Locator::XPath(&path)).await.unwrap();
        section.text().await.unwrap()
    }

    /// The name of the yarn that is chosen for a project.
    async fn chosen(&self, project: usize) -> String {
        let css = format!("#project-{project} select option:checked");
        let option = self.client.find(Locator::Css(&css)).await.unwrap();
        let words = option.text().await.unwrap();
        words.split(" in ").next().unwrap().to_owned()
    }

    /// Shades of a known colour have a chip in it, and each lot that is used a bar as long
    /// as its share.
    async fn has_chips_and_bars(&self) {
        let chips = "return [...document.querySelectorAll('section .chip path')].map(it => it.getAttribute('fill'))";
        let chips = self.said(chips).await;
        let chips = chips.as_array().unwrap();
        let is_colour =
            |fill: &&serde_json::Value| fill.as_str().is_some_and(|it| it.starts_with('#'));
        assert!(
            !chips.is_empty() && chips.iter().all(|fill| is_colour(&fill)),
            "{chips:?}"
        );
        let bars = "return [...document.querySelectorAll('.bars li:has(.amount)')].map(bar => [bar.querySelector('.amount').innerText, bar.querySelector('.part').getBoundingClientRect().width, bar.querySelector('svg').getBoundingClientRect().width])";
        let bars = self.said(bars).await;
        let bars = bars.as_array().unwrap();
        assert!(!bars.is_empty());
        for bar in bars {
            let said = bar[0].as_str().unwrap();
            assert!(said.contains(" of ") && said.ends_with(" m"), "{said}");
            let [drawn, whole] = [1, 2].map(|place| bar[place].as_f64().unwrap());
            assert!(
                0.0 < drawn && drawn <= whole + 1.0,
                "{said}: {drawn} of {whole}"
            );
        }
    }
}

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
    let as_planned = visit.yarn_of(1).await;
    assert!(as_planned.contains("Hathrel DK"), "{as_planned}");
    if script {
        visit.has_chips_and_bars().await;
        visit.screen(320, 568).await;
        visit.is_whole("a plan on a phone").await;
    }
    visit.click("#project-3 button[value=up]").await;
    visit.told("2. Skerrablet XL").await;
    visit.click("#project-1 option:nth-child(3)").await;
    visit.click("#project-1 button.main").await;
    visit.told("Yarn chosen for Skerrablet M").await;
    visit.look("plan-chosen").await;
    // With another yarn chosen all is planned anew.
    let chosen = visit.chosen(1).await;
    let planned = visit.yarn_of(1).await;
    assert!(!planned.contains("Hathrel DK"), "{planned}");
    assert!(planned.contains(&chosen), "{chosen}: {planned}");
    visit.click("#undo button").await;
    visit.told("Undone").await;
    assert_eq!(visit.yarn_of(1).await, as_planned);
    visit.click("#project-1 option:nth-child(3)").await;
    visit.click("#project-1 button.main").await;
    visit.told("Yarn chosen for Skerrablet M").await;
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
