package physiology

// Sources is the bibliography, the only one: key to entry. Where Read is "abstract" or "memory", a
// number that rests on more of the work than that says so in its Note.
var Sources = map[string]Source{
	"banister1991": {
		Authors: "Banister EW", Year: 1991,
		Title:   "Modeling elite athletic performance",
		Journal: "In: MacDougall JD, Wenger HA, Green HJ (eds), Physiological Testing of the High-Performance Athlete, 2nd ed., Human Kinetics, 403-424", Read: "memory",
	},
	"beaver1985": {
		Authors: "Beaver WL, Wasserman K, Whipp BJ", Year: 1985,
		Title:   "Improved detection of lactate threshold during exercise using a log-log transformation",
		Journal: "J Appl Physiol 59(6):1936-1940", DOI: "10.1152/jappl.1985.59.6.1936", Read: "memory",
	},
	"bell2023": {
		Authors: "Bell L, Strafford BW, Coleman M, Androulakis Korakakis P, Nolan D", Year: 2023,
		Title:   "Integrating deloading into strength and physique sports training programmes: an international Delphi consensus approach",
		Journal: "Sports Med Open 9:87", DOI: "10.1186/s40798-023-00633-0", Read: "abstract",
	},
	"berg1990": {
		Authors: "Berg A, Jakob E, Lehmann M, Dickhuth HH, Huber G, Keul J", Year: 1990,
		Title:   "Aktuelle Aspekte der modernen Ergometrie",
		Journal: "Pneumologie 44(1):2-13 (PubMed 2408033)", Read: "memory",
	},
	"bishop1998": {
		Authors: "Bishop D, Jenkins DG, Mackinnon LT", Year: 1998,
		Title:   "The relationship between plasma lactate parameters, Wpeak and 1-h cycling performance in women",
		Journal: "Med Sci Sports Exerc 30(8):1270-1275", DOI: "10.1097/00005768-199808000-00014", Read: "abstract",
	},
	"buist2008": {
		Authors: "Buist I, Bredeweg SW, van Mechelen W, Lemmink KAPM, Pepping GJ, Diercks RL", Year: 2008,
		Title:   "No effect of a graded training program on the number of running-related injuries in novice runners: a randomized controlled trial",
		Journal: "Am J Sports Med 36(1):33-39", DOI: "10.1177/0363546507307505", Read: "abstract",
	},
	"cheng1992": {
		Authors: "Cheng B, Kuipers H, Snyder AC, Keizer HA, Jeukendrup A, Hesselink M", Year: 1992,
		Title:   "A new approach for the determination of ventilatory and lactate thresholds",
		Journal: "Int J Sports Med 13(7):518-522", DOI: "10.1055/s-2007-1021309", Read: "memory",
	},
	"coyle1983": {
		Authors: "Coyle EF, Martin WH, Ehsani AA, Hagberg JM, Bloomfield SA, Sinacore DR, Holloszy JO", Year: 1983,
		Title:   "Blood lactate threshold in some well-trained ischemic heart disease patients",
		Journal: "J Appl Physiol Respir Environ Exerc Physiol 54(1):18-23", DOI: "10.1152/jappl.1983.54.1.18", Read: "abstract",
	},
	"dickhuth1999": {
		Authors: "Dickhuth HH, Yin L, Niess A, Röcker K, Mayer F, Heitkamp HC, Horstmann T", Year: 1999,
		Title:   "Ventilatory, lactate-derived and catecholamine thresholds during incremental treadmill running: relationship and reproducibility",
		Journal: "Int J Sports Med 20(2):122-127", DOI: "10.1055/s-2007-971105", Read: "abstract",
	},
	"foster1998": {
		Authors: "Foster C", Year: 1998,
		Title:   "Monitoring training in athletes with reference to overtraining syndrome",
		Journal: "Med Sci Sports Exerc 30(7):1164-1168", DOI: "10.1097/00005768-199807000-00023", Read: "abstract",
	},
	"foster2001": {
		Authors: "Foster C, Florhaug JA, Franklin J, Gottschall L, Hrovatin LA, Parker S, Doleshal P, Dodge C", Year: 2001,
		Title:   "A new approach to monitoring exercise training",
		Journal: "J Strength Cond Res 15(1):109-115", DOI: "10.1519/00124278-200102000-00019", Read: "full",
	},
	"frandsen2025": {
		Authors: "Frandsen JSB, and others", Year: 2025,
		Title:   "How much running is too much? Identifying high-risk running sessions in a 5200-person cohort study",
		Journal: "Br J Sports Med 59(17):1203-1210", DOI: "10.1136/bjsports-2024-109380", Read: "abstract",
	},
	"gallo2024": {
		Authors: "Gallo G, Faelli EL, Ruggeri P, Filipas L, Codella R, Plews DJ, Maunder E", Year: 2024,
		Title:   "Power output at the moderate-to-heavy intensity transition decreases in a non-linear fashion during prolonged exercise",
		Journal: "Eur J Appl Physiol 124(8):2353-2364", DOI: "10.1007/s00421-024-05440-3", Read: "abstract",
	},
	"goodwin2007": {
		Authors: "Goodwin ML, Harris JE, Hernandez A, Gladden LB", Year: 2007,
		Title:   "Blood lactate measurements and analysis during exercise: a guide for clinicians",
		Journal: "J Diabetes Sci Technol 1(4):558-569", DOI: "10.1177/193229680700100414", Read: "abstract",
	},
	"heck1985": {
		Authors: "Heck H, Mader A, Hess G, Mücke S, Müller R, Hollmann W", Year: 1985,
		Title:   "Justification of the 4-mmol/l lactate threshold",
		Journal: "Int J Sports Med 6(3):117-130", DOI: "10.1055/s-2008-1025824", Read: "memory",
	},
	"hughson1987": {
		Authors: "Hughson RL, Weisiger KH, Swanson GD", Year: 1987,
		Title:   "Blood lactate concentration increases as a continuous function in progressive exercise",
		Journal: "J Appl Physiol 62(5):1975-1981", DOI: "10.1152/jappl.1987.62.5.1975", Read: "abstract",
	},
	"hunt2019": {
		Authors: "Hunt KJ, Grunder R, Zahnd A", Year: 2019,
		Title:   "Identification and comparison of heart-rate dynamics during cycle ergometer and treadmill exercise",
		Journal: "PLOS ONE 14(8):e0220826", DOI: "10.1371/journal.pone.0220826", Read: "abstract",
	},
	"jamnick2018": {
		Authors: "Jamnick NA, Botella J, Pyne DB, Bishop DJ", Year: 2018,
		Title:   "Manipulating graded exercise test variables affects the validity of the lactate threshold and VO2peak",
		Journal: "PLOS ONE 13(7):e0199794", DOI: "10.1371/journal.pone.0199794", Read: "abstract",
	},
	"jeukendrup2014": {
		Authors: "Jeukendrup A", Year: 2014,
		Title:   "A step towards personalized sports nutrition: carbohydrate intake during exercise",
		Journal: "Sports Med 44(Suppl 1):S25-S33", DOI: "10.1007/s40279-014-0148-z", Read: "abstract",
	},
	"karvonen1957": {
		Authors: "Karvonen MJ, Kentala E, Mustala O", Year: 1957,
		Title:   "The effects of training on heart rate; a longitudinal study",
		Journal: "Ann Med Exp Biol Fenn 35(3):307-315 (PubMed 13470504)", Read: "memory",
	},
	"kuipers1985": {
		Authors: "Kuipers H, Verstappen FT, Keizer HA, Geurten P, van Kranenburg G", Year: 1985,
		Title:   "Variability of aerobic performance in the laboratory and its physiologic correlates",
		Journal: "Int J Sports Med 6(4):197-201", DOI: "10.1055/s-2008-1025839", Read: "abstract",
	},
	"mentzoni2024": {
		Authors: "Mentzoni F, Skaugen M, Eythorsdottir I, Roterud S, Johansen ES, Losnegard T", Year: 2024,
		Title:   "Precision and accuracy of four handheld blood lactate analyzers across low to high exercise intensities",
		Journal: "Eur J Appl Physiol, online 19 August 2024", DOI: "10.1007/s00421-024-05572-6", Read: "abstract",
	},
	"morton1990": {
		Authors: "Morton RH, Fitz-Clarke JR, Banister EW", Year: 1990,
		Title:   "Modeling human performance in running",
		Journal: "J Appl Physiol 69(3):1171-1177", DOI: "10.1152/jappl.1990.69.3.1171", Read: "abstract",
	},
	"mosler2020": {
		Authors: "Mosler S, Braun H, Carlsohn A, Großhauser M, König D, Lampen A, Nieß A, Oberritter H, Schäbethal K, Schek A, Stehle P, Virmani K, Ziegenhagen R, Heseker H", Year: 2020,
		Title:   "Position of the Working Group Sports Nutrition of the German Nutrition Society (DGE): fluid replacement in sports",
		Journal: "Dtsch Z Sportmed 71(7-8-9)", DOI: "10.5960/dzsm.2020.453", Read: "abstract",
	},
	"nielsen2014": {
		Authors: "Nielsen RØ, Parner ET, Nohr EA, Sørensen H, Lind M, Rasmussen S", Year: 2014,
		Title:   "Excessive progression in weekly running distance and risk of running-related injuries: an association which varies according to type of injury",
		Journal: "J Orthop Sports Phys Ther 44(10):739-747", DOI: "10.2519/jospt.2014.5164", Read: "abstract",
	},
	"pallares2016": {
		Authors: "Pallarés JG, Morán-Navarro R, Ortega JF, Fernández-Elías VE, Mora-Rodriguez R", Year: 2016,
		Title:   "Validity and reliability of ventilatory and blood lactate thresholds in well-trained cyclists",
		Journal: "PLOS ONE 11(9):e0163389", DOI: "10.1371/journal.pone.0163389", Read: "abstract",
	},
	"riebe2015": {
		Authors: "Riebe D, Franklin BA, Thompson PD, Garber CE, Whitfield GP, Magal M, Pescatello LS", Year: 2015,
		Title:   "Updating ACSM's recommendations for exercise preparticipation health screening",
		Journal: "Med Sci Sports Exerc 47(11):2473-2479", DOI: "10.1249/MSS.0000000000000664", Read: "abstract",
	},
	"scherr2013": {
		Authors: "Scherr J, Wolfarth B, Christle JW, Pressler A, Wagenpfeil S, Halle M", Year: 2013,
		Title:   "Associations between Borg's rating of perceived exertion and physiological measures of exercise intensity",
		Journal: "Eur J Appl Physiol 113(1):147-155", DOI: "10.1007/s00421-012-2421-x", Read: "abstract",
	},
	"stevenson2022": {
		Authors: "Stevenson JD, Kilding AE, Plews DJ, Maunder E", Year: 2022,
		Title:   "Prolonged cycling reduces power output at the moderate-to-heavy intensity transition",
		Journal: "Eur J Appl Physiol 122(12):2673-2682", DOI: "10.1007/s00421-022-05036-9", Read: "abstract",
	},
	"thomas2016": {
		Authors: "Thomas DT, Erdman KA, Burke LM", Year: 2016,
		Title:   "American College of Sports Medicine joint position statement: nutrition and athletic performance",
		Journal: "Med Sci Sports Exerc 48(3):543-568", DOI: "10.1249/MSS.0000000000000852", Read: "memory",
	},
}
