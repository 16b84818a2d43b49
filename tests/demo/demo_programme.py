"""The coordinator's own files of the demo programme: invented people, tags, places and names."""

from __future__ import annotations

SETTINGS = """\
# Settings of the programme. Every line has a default: what you leave out counts as written here.

[programme]
id = "saltmarsh"                    # part of every identifier: never change it
name = "Saltmarsh Wing-Tag Society"
contact = "coordinator@example.org"
licence = "https://creativecommons.org/licenses/by/4.0/legalcode"
rights_holder = "Saltmarsh Wing-Tag Society"
permit = ""                         # capture and marking may need one: see the cautions in the README
languages = ["en", "fr"]

[season]
label = "2026"                      # the same as in tags.csv
first_day = 2026-08-01              # releases outside are asked about; may span New Year
last_day = 2026-11-10
date_order = "ask"                  # day-first, month-first or ask, when a column does not settle it itself

[tags]
pattern = "[A-Z]{2}[0-9]{4}|[0-9][A-Z][0-9]{4}"
check_character = "none"            # none, iso7064-mod37-36, iso7064-mod11-2

[species]
default = "Danaus plexippus"        # of a row that names none
allowed = ["Danaus plexippus"]

[region]
countries = ["CA", "US", "MX"]      # where releases and finds are expected
release_countries = ["CA"]
datum = "EPSG:4326"                 # when a sheet names none: counts as known, raises no question
unknown_datum_metres = 120
unsigned_longitude = "ask"          # ask, west or east
receiver_accuracy_m = 30            # of a position whose accuracy is not stated; 0 for none

[privacy]
home_square_degrees = 0.01          # homes and minors' places are rounded to multiples of this
home_unknown = "most-used-place"    # or none
publish_names = "consent"           # or never

[letters]
signed_by = "Nell Abernathy-Roche"
reply_to = "coordinator@example.org"
days_to_answer = 14
reminder_days = 10
reminders = 2

[finds]
longest_life_days = 310
fastest_km_per_day = 150
local_km = 20                       # a find nearer than this is a near find

[portal]
batch = "each-run"                  # or when-asked
origins = ["wild", "reared"]        # others stay home
occurrence_status = "detected"      # the word of the newest list; some desks still want present
sex_words = ["female", "male"]      # the desk's words for female and male
life_stage_words = ["egg", "larva", "pupa", "juvenile", "adult"]    # the desk's words for these
dataset_id = ""
establishment_means = ""            # written as given where the programme knows it, else left out
"""

PEOPLE = """\
person_id,name,email,language,publish_name,minor,group,home_latitude,home_longitude,guardian_name,guardian_email,consent_on
p01,Marguerite Arsenault-Kell,p01@example.org,fr,yes,no,,46.9391,-64.0267,,,2026-07-04
p02,Tobias Fennimore,p02@example.org,en,yes,no,,45.9043,-64.3751,,,2026-07-02
p03,Priya Wetmore-Rao,p03@example.org,en,no,no,,,,,,
p04,Lucien Bourgoin-Haché,p04@example.org,fr,yes,no,,,,,,2026-07-11
p05,Odile Thériault-Vance,p05@example.org,fr,no,no,class-5b,,,,,2026-06-20
p06,Juniper Colewell,,en,no,yes,guides,,,Hester Colewell,p06@example.org,2026-07-06
p07,Mathéo Saulnier-Quist,,fr,no,yes,,46.1502,-64.7034,Joëlle Saulnier-Quist,p07@example.org,2026-07-19
p08,Gwendolyn Pickersgill,p08@example.org,en,yes,no,,45.0712,-64.3811,,,2026-07-01
p09,Ransford Okafor-Hale,p09@example.org,en,no,no,,,,,,2026-07-22
p10,Élise Doucette-Marr,p10@example.org,fr,yes,no,,46.4402,-63.6511,,,2026-07-08
p11,Barnaby Rushworth,p11@example.org,en,no,no,,,,,,
p12,Ingrid Solheim-Parr,p12@example.org,en,yes,no,,45.9577,-66.6602,,,2026-07-15
p13,Théophile Gagnon-Leduc,p13@example.org,fr,no,no,,,,,,2026-07-27
p14,Dorothea Quillfeather,p14@example.org,en,yes,no,,,,,,2026-07-09
p15,Wei-Lin Macaskill,p15@example.org,en,no,no,,45.5871,-62.6533,,,2026-07-30
p16,Coraline Benoît-Estey,p16@example.org,fr,yes,no,,,,,,2026-07-12
p17,Jasper Nwosu-Gray,p17@example.org,en,yes,no,guides,,,,,2026-07-06
p18,Solvei Brackenridge,p18@example.org,en,no,no,,,,,,
p19,Ambrose Tilley-Voss,p19@example.org,en,yes,no,,,,,,2026-08-01
f01,Rosalba Ixtepec Pineda,f01@example.org,es,no,no,,,,,,
f02,Hilario Zambrano Otero,f02@example.org,es,no,no,,,,,,
c01,Nell Abernathy-Roche,coordinator@example.org,en,yes,no,,,,,,2026-06-01
"""

TAGS = """\
season,first_code,last_code,person_id,allotted_on,status
2025,SL0401,SL0425,p08,2025-07-12,allotted
2026,SM0001,SM0040,p01,2026-07-06,allotted
2026,SM0041,SM0090,p02,2026-07-06,allotted
2026,SM0091,SM0125,p03,2026-07-06,allotted
2026,SM0126,SM0160,p04,2026-07-13,allotted
2026,SM0161,SM0200,p05,2026-07-13,allotted
2026,SM0201,SM0225,p06,2026-07-13,allotted
2026,SM0226,SM0250,p07,2026-07-20,allotted
2026,SM0251,SM0300,p08,2026-07-06,allotted
2026,SM0301,SM0330,p09,2026-07-23,allotted
2026,SM0331,SM0360,p10,2026-07-13,allotted
2026,SM0361,SM0405,p11,2026-07-13,allotted
2026,4E0001,4E0040,p12,2026-07-16,allotted
2026,SM0406,SM0435,p13,2026-07-28,allotted
2026,SM0436,SM0475,p14,2026-07-13,allotted
2026,SM0476,SM0505,p15,2026-07-30,allotted
2026,SM0506,SM0535,p16,2026-07-13,allotted
2026,SM0536,SM0570,p17,2026-07-06,allotted
2026,SM0571,SM0600,p18,2026-08-03,allotted
2026,SM0601,SM0625,p19,2026-08-03,allotted
2026,SM0139,SM0139,p04,2026-09-02,lost
2026,SM0159,SM0159,p04,2026-09-02,lost
2026,SM0198,SM0200,p05,2026-10-30,returned
2026,SM0320,SM0320,p09,2026-09-15,spoiled
2026,SM0329,SM0330,p09,2026-09-15,spoiled
2026,SM0596,SM0600,p18,2026-10-20,kept
"""

SITES = """\
name,latitude,longitude,uncertainty_m,public
Heron Loop,45.0650,-64.3905,250,yes
Étang du Moulin-Roy,46.4460,-63.6300,150,yes
Lower Dyke Lookout,45.8921,-64.3602,200,yes
Ferme des Aulnes,46.0102,-64.5602,300,no
Guides' Meadow,45.5990,-62.0300,120,no
"""

# "Amiral" is said of two butterflies here, as common names often are.
TAXA = """\
scientificName,rank,vernacular_en,vernacular_fr,vernacular_es,authorship
Danaus plexippus,species,monarch,monarque,monarca,"(Linnaeus, 1758)"
Danaus gilippus,species,queen,reine,reina,"(Cramer, 1775)"
Vanessa cardui,species,painted lady,belle-dame,cardera,"(Linnaeus, 1758)"
Vanessa atalanta,species,red admiral,amiral,numerada,"(Linnaeus, 1758)"
Limenitis arthemis,species,white admiral,amiral,,"(Drury, 1773)"
Danaus,genus,,,,"Kluk, 1780"
"""

SENSITIVE_PLACES = """\
scientificName,area,first_day,last_day,square_degrees
Danaus plexippus,MX-MIC,11-01,03-31,0.1
"""

FILES = {
    "programme.toml": SETTINGS,
    "people.csv": PEOPLE,
    "tags.csv": TAGS,
    "sites.csv": SITES,
    "taxa.csv": TAXA,
    "sensitive_places.csv": SENSITIVE_PLACES,
}
