//! What a column of anybody's table may hold, and the words by which people head it,
//! in English, German, French, Dutch, Spanish and Danish (common practice, no source).

use crate::{label::cells, trade::Gtin};

/// What a bare number of a field lacks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lack {
    /// The unit of a length.
    Length,
    /// The unit of a mass.
    Mass,
    /// Whether it counts skeins or weighs.
    Amount,
    /// A currency.
    Currency,
}

/// One thing that a column may hold, by the name that our own tables have for it.
#[derive(Debug)]
pub struct Field {
    /// Its name: that of a column of yarns or of stock, or `put_up` for both length and
    /// mass.
    pub name: &'static str,
    /// What a bare number lacks.
    pub lack: Option<Lack>,
    /// Whether a cell is a value of it; any text is where there is none.
    pub reads: Option<fn(&str) -> bool>,
    /// Words at the head of such columns, folded, the usual ones first; behind `=` the
    /// unit that a bare number then has.
    pub(super) words: &'static str,
}

impl PartialEq for Field {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

macro_rules! fields {
    (@lack) => { None };
    (@lack $lack:ident) => { Some(Lack::$lack) };
    (@reads) => { None };
    (@reads $reads:expr) => { Some($reads) };
    ($($name:literal $(lacks $lack:ident)? $(reads $reads:expr)?, $words:literal;)*) => {
        &[$(Field {
            name: $name,
            lack: fields!(@lack $($lack)?),
            reads: fields!(@reads $($reads)?),
            words: $words,
        }),*]
    };
}

/// All fields.
pub const FIELDS: &[Field] = fields! {
    "maker",
        "maker, brand, manufacturer, producer, company, hersteller, marke, firma, marque, fabricant, \
         merk, fabrikant, marca, fabricante, mærke, producent";
    "name",
        "name, yarn name, yarn, quality, product, article, item, description, garn, garnname, \
         qualitat, bezeichnung, artikelbezeichnung, artikel, produkt, wolle, sorte, nom, fil, \
         laine, qualite, designation, produit, naam, garen, kwaliteit, omschrijving, wol, nombre, \
         hilo, lana, calidad, articulo, producto, descripcion, navn, kvalitet, varenavn, vare";
    "put_up" reads is_put_up,
        "put up, length and weight, lauflange und gewicht, lauflange gewicht, longueur et poids, \
         lengte en gewicht, longitud y peso, længde og vægt";
    "length" lacks Length reads |text| cells::length(text).is_ok(),
        "length, metres=m, meters=m, meterage=m, yards=yd, yardage=yd, yds=yd, yd=yd, lauflange=m, ll=m, lange=m, \
         meter=m, longueur=m, metrage=m, looplengte=m, lengte=m, longitud=m, metros=m, \
         metraje=m, løbelængde=m, længde=m";
    "mass" lacks Mass reads |text| cells::mass(text).is_ok(),
        "mass, weight, ball weight, skein weight, grams=g, grammes=g, ounces=oz, oz=oz, gewicht=g, knauelgewicht=g, \
         gramm=g, poids=g, poids pelote=g, gram=g, peso=g, peso ovillo=g, gramos=g, vægt=g, \
         nøglevægt=g";
    "class" reads |text| cells::class(text).is_ok(),
        "class, weight class, yarn weight, weight, thickness, garnstarke, starke, categorie, \
         grosseur, epaisseur, dikte, garendikte, klasse, grosor, categoria, tykkelse, garntykkelse";
    "fibre" reads |text| cells::blend(text).is_ok(),
        "fibre, fiber, fibre content, fiber content, content, composition, made of, material, materials, \
         zusammensetzung, faser, fasern, matiere, samenstelling, materiaal, composicion, fibra, \
         sammensætning, materiale";
    "construction" reads |text| cells::construction(text).is_ok(),
        "construction, build, konstruktion, machart, structure, constructie, construccion";
    "gauge" reads |text| cells::gauge(text).is_ok(),
        "gauge, tension, maschenprobe, echantillon, stekenverhouding, proeflapje, muestra, \
         strikkefasthed";
    "needle" reads |text| cells::needles(text).is_ok(),
        "needle, needles, needle size, nadel, nadeln, nadelstarke, aiguille, aiguilles, naald, \
         naalden, naalddikte, aguja, agujas, pind, pinde, pindestørrelse";
    "care" reads |text| cells::care(text).is_ok(),
        "care, washing, wash, pflege, waschen, entretien, lavage, wasvoorschrift, wassen, cuidado, \
         cuidados, lavado, vask, vaskeanvisning, pleje";
    "price" lacks Currency reads |text| cells::price(text).is_ok(),
        "price, retail price, selling price, rrp, unit price, preis, verkaufspreis, vk, vk preis, uvp, \
         stuckpreis, prix, prix unitaire, prix de vente, prijs, verkoopprijs, precio, pvp, pris, \
         salgspris, stykpris, cost, paid, bezahlt";
    "gtin" reads |text| Gtin::read(text).is_ok(),
        "gtin, ean, ean code, ean13, upc, barcode, bar code, strichcode, code barre, code barres, \
         streepjescode, codigo de barras, stregkode";
    "notes",
        "notes, note, comment, comments, remark, remarks, bemerkung, bemerkungen, notiz, notizen, \
         anmerkung, remarque, remarques, commentaire, opmerking, opmerkingen, notas, \
         observaciones, noter, bemærkning, bemærkninger";
    "shade",
        "shade, colourway, colorway, colour name, color name, colour, color, farbe, farbton, \
         farbname, coloris, couleur, kleur, kleurnaam, tono, farve, farvenavn, colour number, \
         color number, colour no, farbnummer, farbnr, farb nr";
    "colour" reads |text| cells::colour(text).is_ok(),
        "colour of the shade, colour code, color code, colour value, hex, hex code, rgb, farbcode, \
         farbwert, code couleur, kleurcode, codigo de color, farvekode";
    "lot",
        "lot, dye lot, dyelot, batch, lot number, partie, farbpartie, charge, bain, numero de bain, \
         verfbad, partij, lote, bano, partida, parti, partinummer, indfarvning";
    "amount" lacks Amount reads |text| cells::stock_amount(text).is_ok(),
        "amount, quantity, qty, how much, how many=skeins, stock, in stock, on hand, have, skeins=skeins, balls=skeins, \
         number of skeins=skeins, number of balls=skeins, no of balls=skeins, anzahl=skeins, \
         knauel=skeins, anzahl knauel=skeins, stuck=skeins, menge, bestand, vorrat, lagerbestand, \
         quantite, pelotes=skeins, nombre de pelotes=skeins, nb pelotes=skeins, aantal=skeins, \
         bollen=skeins, aantal bollen=skeins, hoeveelheid, voorraad, cantidad, ovillos=skeins, \
         existencias, unidades=skeins, antal=skeins, nøgler=skeins, antal nøgler=skeins, mængde, \
         beholdning, lager";
    "place",
        "place, location, where, box, shelf, storage, ort, lagerort, platz, kiste, regal, \
         aufbewahrung, emplacement, endroit, lieu, boite, plaats, locatie, doos, plek, lugar, \
         ubicacion, caja, sted, placering, kasse, plads";
    "count" reads |text| cells::count(text).is_ok(),
        "yarn count, nm, titre, garnnummer";
    "discontinued" reads |text| cells::yes_no(text).is_ok(),
        "discontinued, ausgelaufen, arrete, uit collectie, descatalogado, udgaet";
};

fn is_put_up(text: &str) -> bool {
    cells::put_up(text).is_ok_and(|read| read.value.length.is_some() && read.value.mass.is_some())
}

/// The field that our tables call so.
pub fn field_named(name: &str) -> Option<&'static Field> {
    FIELDS.iter().find(|field| field.name == name)
}

/// How well words at the head of a column fit a field, 0 for not at all, with the unit
/// that they imply.
pub(super) fn fit(field: &Field, head: &str) -> (u32, Option<&'static str>) {
    let words = field.words.split(',').map(str::trim);
    let fits = words.enumerate().map(|(place, word)| {
        let (word, unit) = match word.split_once('=') {
            Some((word, unit)) => (word, Some(unit)),
            None => (word, None),
        };
        // The usual words first, where two columns are headed by words of one field.
        let usual = 99 - u32::try_from(place).unwrap_or(99).min(99);
        let rank = match word {
            word if word == head => 300,
            word if has_words(head, word) => 200,
            _ => 0,
        };
        (if rank > 0 { rank + usual } else { 0 }, unit)
    });
    fits.max_by_key(|(rank, _)| *rank).unwrap_or((0, None))
}

/// Whether a head begins or ends with these words.
fn has_words(head: &str, words: &str) -> bool {
    let begins = head
        .strip_prefix(words)
        .is_some_and(|rest| rest.starts_with(' '));
    let ends = head
        .strip_suffix(words)
        .is_some_and(|rest| rest.ends_with(' '));
    begins || ends
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        files::csv::{STOCK_COLUMNS, YARN_COLUMNS},
        words::fold,
    };

    #[test]
    fn fields_are_columns_of_our_tables_and_their_words_are_folded() {
        for field in FIELDS {
            let columns = YARN_COLUMNS.iter().chain(STOCK_COLUMNS);
            let mut names = columns.map(|column| column.name);
            assert!(field.name == "put_up" || names.any(|name| name == field.name));
            for word in field.words.split(',').map(str::trim) {
                let word = word.split('=').next().unwrap();
                assert_eq!(fold(word), word);
            }
        }
    }

    #[test]
    fn the_usual_word_comes_before_a_rare_one() {
        let shade = field_named("shade").unwrap();
        assert!(fit(shade, "farbe").0 > fit(shade, "farbnummer").0);
        assert!(fit(shade, "farbe neu").0 < fit(shade, "farbnummer").0);
        assert_eq!(fit(shade, "price").0, 0);
        let length = field_named("length").unwrap();
        assert_eq!(fit(length, "lauflange").1, Some("m"));
    }
}
