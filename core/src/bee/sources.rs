//! What the numbers of bees were taken from: each source is written once.

pub(super) const HEARD_1993: &str = "Heard & Hendrikz 1993, Aust. J. Zool. 41:343–353";
pub(super) const TEIXEIRA_2005: &str =
    "Teixeira & Campos 2005, Rev. Bras. Zoociências 7(2): begin of flight in June";
pub(super) const MAIA_SILVA_2014: &str =
    "Maia-Silva et al. 2014, Sociobiology 61:378–385: pollen foraging";
pub(super) const HALCROFT_THESIS: &str = "Halcroft's doctoral thesis (University of Western Sydney, 2012 from memory), second-hand through an \
     encyclopaedia";
pub(super) const HILARIO_2000: &str = "Hilário et al. 2000, Rev. Bras. Biol. 60:299–306; watched from 08:00 only, so an upper bound of \
     the first flight";
pub(super) const HILARIO_2001: &str = "Hilário et al. 2001, Rev. Bras. Biol. 61:191–196: all colonies at 15 °C, the first at 14 °C; \
     watched from 08:00 only, so an upper bound of the first flight";
pub(super) const BORGES_2005: &str = "Borges & Blochtein 2005, Rev. Bras. Zool. 22:680–686 (M. marginata obscurior): 13.7 °C in autumn \
     and winter, 14.3 °C in spring and summer";
pub(super) const GEOTRIGONA_2016: &str = "Pap. Avulsos Zool. 56(12):151, 2016 (authors to be confirmed): flight from 06:00 at 20 °C; whether \
     it was watched earlier was not seen, so an upper bound of the first flight";

pub(super) const COUNCIL: &str = "Ku-ring-gai Council (New South Wales), guidance for native bee hives (year not seen; Sydney): \
     shade above 38 °C, a cool place above 40 °C on a day; for Tetragonula carbonaria";
pub(super) const DA_SILVA_2017: &str = "da Silva et al. 2017, J. Apic. Res. 56:81: workers, 24 h: critical 40 °C with water, 39 °C without; \
     lethal 44 and 42 °C";
pub(super) const VOLLET_NETO_2015: &str = "Vollet-Neto et al. 2015, Apidologie 46:455: pupae live at 26 to 34 °C, nearly all die at 22 and at \
     38 °C";
pub(super) const COLD_TEST: &str = "a keeper's test 2016, no study: 46 % of bees dead by day 3 at 4 to 15 °C, brood harmed after 3 d \
     (common practice, no source)";
pub(super) const MELIPONA_RANGE: &str = "no value for the genus: 36 d (M. quadrifasciata, Kerr 1949, in Nogueira-Neto 1997, p. 90) to 55.4 d \
     (M. colimana, Macías-Macías & Quezada-Euán 2015, Rev. Mex. Cienc. Pec. 6), carried as 36 to 56 d";
pub(super) const MOO_VALLE_2004: &str =
    "Moo-Valle et al. 2004, Apidologie 35:587–594: worker 52.7 d, queen 50.8 d";
pub(super) const MACIAS_2015: &str =
    "Macías-Macías & Quezada-Euán 2015, Rev. Mex. Cienc. Pec. 6: worker 55.4 d, queen 52.6 d";
pub(super) const KERR_1949: &str = "Kerr 1949, in Nogueira-Neto 1997, p. 90: worker 36 d";
pub(super) const KERR_1996: &str = "Kerr 1996, second-hand through a page of the Federal University of Viçosa: worker 40 d, queen 37 d";
pub(super) const RUANO_1996: &str = "van Nieuwstadt & Ruano 1996, Apidologie 27:219–228, through the data of Kendall et al. 2022, Ecology \
     103:e3809";
pub(super) const SMITH_2017: &str = "Smith et al. 2017, Austral Entomol. 56:50: half from 333 m, nine in ten from 700 to 712 m; through the \
     data of Kendall et al. 2022, Ecology 103:e3809";
pub(super) const ROUBIK_1983: &str =
    "Roubik & Aluja 1983, through the data of Kendall et al. 2022, Ecology 103:e3809";
pub(super) const KERR_1987: &str =
    "Kerr 1987 and Wille 1983, through the data of Kendall et al. 2022, Ecology 103:e3809";
pub(super) const WAYO_2022: &str = "Wayo et al. 2022 (Thailand, journal to be confirmed)";

pub(super) const LIGHT_SMALL: &str = "Streinzer, Huber & Spaethe 2016, J. Comp. Physiol. A 202:643–655: eight species begin at 0.1 to 79 lx, \
     larger ones at less; the latest, its smallest bee (tiny Trigonisca pipioli was early for its size). \
     For moves and flying days alike: no other light is published for the class";
pub(super) const LIGHT_MEDIUM: &str = "Streinzer, Huber & Spaethe 2016, J. Comp. Physiol. A 202:643–655: eight species begin at 0.1 to 79 lx, \
     larger ones at less; the earliest, its largest bee";
pub(super) const LIGHT_LARGE: &str = "Streinzer, Huber & Spaethe 2016, J. Comp. Physiol. A 202:643–655: its largest bee, smaller than a \
     Melipona, begins at 0.1 lx; for Melipona an extrapolation";
pub(super) const EARLIEST_SMALL: &str = "that of Plebeia pugnax, the lowest published for a small bee; Hilário et al. 2001, Rev. Bras. Biol. \
     61:191–196, watched from 08:00 only, so an upper bound";
pub(super) const USUAL_SMALL: &str = "that of Austroplebeia australis (Halcroft's doctoral thesis, second-hand through an encyclopaedia); \
     Friesella schrottkyi and Plebeia lucii began at 20.8 °C (Teixeira & Campos 2005, Rev. Bras. \
     Zoociências 7(2))";
pub(super) const BETWEEN_CLASSES: &str = "our line between the small and the large bees, by size (11.3 °C at 3.1 mm between the tegulae, \
     20.8 °C at 1.0 to 1.1 mm: Teixeira & Campos 2005, Rev. Bras. Zoociências 7(2))";
pub(super) const EARLIEST_LARGE: &str = "that of Melipona bicolor, Hilário et al. 2000, Rev. Bras. Biol. 60:299–306; M. quadrifasciata began \
     at 11.3 °C (Teixeira & Campos 2005, Rev. Bras. Zoociências 7(2))";
pub(super) const USUAL_LARGE: &str = "that of Melipona marginata obscurior, 13.7 to 14.3 °C, Borges & Blochtein 2005, Rev. Bras. Zool. \
     22:680–686";
pub(super) const LIKE_AUSTRALIS: &str = "that of Austroplebeia australis, the longest published for a bee that is no Melipona: 55 d at 27 °C, \
     Halcroft et al. 2013, Insectes Soc. 60:259";
pub(super) const CARRYING_WIND: &str = "common practice, no source: from a fresh breeze (Beaufort 5) on boxes are hard to carry. It restricts no \
     flight in the dividing season: Plebeia remota flew most at 3.5 to 6 m/s and was limited by 5.5 m/s in \
     winter only (Hilário et al. 2007, Biota Neotrop. 7(3):225)";
