//! The shapes of the data that templates are given, as JSON Schema made from the types themselves and
//! kept in `templates/schema/`, for whoever writes a template.

#[cfg(test)]
// Tests may look at the environment; what is forbidden is that an output depends on it.
#[allow(clippy::disallowed_methods)]
mod tests {
    use super::super::{
        DATA_SHAPE, catalogue, certificate, community, drawn, keeping, label, ledger, quote, show,
    };
    use schemars::generate::SchemaSettings;
    use std::path::Path;

    /// Name of the template's data and its schema, as the file holds it.
    fn schemas() -> Vec<(&'static str, String)> {
        let made = |name: &str, what: schemars::Schema| {
            let mut value = what.to_value();
            if let Some(all) = value.as_object_mut() {
                let id = format!("offloom:papers/{name}/{DATA_SHAPE}");
                all.insert("$id".to_string(), id.into());
            }
            let mut text = serde_json::to_string_pretty(&value).unwrap();
            text.push('\n');
            text
        };
        // What is written is what a template reads, so that an option that is none is null, and always there.
        let settings = || {
            SchemaSettings::draft2020_12()
                .for_serialize()
                .into_generator()
        };
        // One line a paper.
        macro_rules! all {
            ($($name:literal: $kind:ty),* $(,)?) => {
                vec![$(($name, made($name, settings().into_root_schema_for::<$kind>()))),*]
            };
        }
        all! {
            "care-label": label::Label,
            "certificate": certificate::Certificate,
            "catalogue-page": catalogue::Page,
            "owner-sheet": keeping::OwnerSheet,
            "condition-sheet": drawn::ConditionSheet,
            "studio-sheet": ledger::StudioSheet,
            "hanging-sheet": drawn::HangingSheet,
            "packing-sheet": drawn::PackingSheet,
            "catalogue": show::Book,
            "wall-labels": show::WallLabels,
            "hang-plan": show::HangPlan,
            "show-list": show::ListPaper,
            "quote": quote::Quote,
            "credits-panel": community::CreditsPanel,
            "squares-map": community::SquaresMap,
            "thanks-sheets": community::ThanksSheets,
        }
    }

    #[test]
    fn the_schemas_in_the_folder_are_those_of_the_types() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/schema");
        let renew = std::env::var_os("ACCEPT").is_some();
        for (name, made) in schemas() {
            let path = folder.join(format!("{name}.json"));
            if renew {
                std::fs::create_dir_all(&folder).unwrap();
                std::fs::write(&path, &made).unwrap();
            }
            let kept = std::fs::read_to_string(&path).unwrap_or_default();
            assert!(
                kept == made,
                "{} is not what the types say. If the change is meant: does it take a field away or change \
             its meaning? Then DATA_SHAPE grows. Run the test again with ACCEPT=1",
                path.display()
            );
        }
    }

    #[test]
    fn every_field_of_a_paper_says_what_it_holds_or_is_named_for_it() {
        for (name, made) in schemas() {
            let value: serde_json::Value = serde_json::from_str(&made).unwrap();
            let fields = value["properties"].as_object().unwrap();
            assert!(fields.contains_key("common"), "{name}");
            // A template can rely on every field: none is left out where there is nothing to say.
            let required = value["required"].as_array().unwrap();
            assert_eq!(required.len(), fields.len(), "{name}");
        }
    }
}
