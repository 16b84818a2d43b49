"""The slips planted in the demo, each with what must come of it, written by hand.

A line says: in this file and sheet, in this row as the sender sees it, these cells (column letter: what is
typed instead) are wrong; then the field, the rule that must name it and the suggestion it must make.
A line without cells tells of a row that another line has already touched, or that stands in tags.csv.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, time
from typing import NamedTuple

from demo_book import Cell

Typed = Mapping[str, Cell]


class Fault(NamedTuple):
    """A planted slip; row 0 is about the whole file."""

    file: str
    sheet: str
    row: int
    typed: Typed
    field: str
    rule: str
    suggestion: str = ""


ARSENAULT = "p01/Monarques Arsenault-Kell.xlsx", "Feuil1"
TAGGING, OCTOBER = ("p02/tagging-2026.xlsx", "Sheet1"), ("p02/october.xlsx", "October")
WETMORE, BOURGOIN = ("p03/wetmore-rao.csv", ""), ("p04/lachers 2026.csv", "")
RENARDS, LOUTRES = ("p05/classe 5B.ods", "Équipe Renards"), ("p05/classe 5B.ods", "Équipe Loutres")
JUNIPER, JUNIPER_MORE = ("p06/juniper.xlsx", "My butterflies"), ("p06/juniper more.csv", "")
MATHEO = "p07/papillons.xls", "Papillons"
TRANSECT = "p08/transect.xlsx", "Data"
OKAFOR, DOUCETTE = ("p09/okafor-hale.tsv", ""), ("p10/relaches.xls", "Lâchers")
RUSHWORTH, RUSHWORTH_SECOND = ("p11/rushworth.txt", ""), ("butterflies.csv", "")
SOLHEIM, GAGNON = ("p12/solheim-2026.xlsx", "Reared"), ("p13/gagnon-leduc.ods", "Feuille1")
QUILL, MACASKILL = ("p14/quillfeather.xlsx", "September"), ("p15/macaskill.csv", "")
BENOIT, GUIDES = ("p16/benoit-estey.xlsx", "2026"), ("tagging sheet guides.xlsx", "Sheet1")
BOOK, MAC, STALL = ("Book1.xlsx", "Sheet1"), ("p19/tilley-voss.xlsx", "Sheet1"), ("fair stall.csv", "")
FINDS, HALLAZGOS, MARIPOSAS = (
    ("c01/finds 2026.xlsx", "Finds"),
    ("f01/hallazgos.csv", ""),
    ("f02/mariposas.txt", ""),
)

DRAGGED = "decimalLatitude=48.3601; decimalLongitude=-67.2172"

FAULTS = (
    # Marguerite, in French.
    Fault(*ARSENAULT, 12, {"I": "tél. 506-555-0143 si on la retrouve"}, "occurrenceRemarks",
          "private_detail_in_text"),
    Fault(*ARSENAULT, 15, {"B": "31/09/2026"}, "eventDate", "day_not_in_calendar"),
    Fault(*ARSENAULT, 20, {"B": "10 septembre"}, "eventDate", "day_without_year", "2026-09-10"),
    Fault(*ARSENAULT, 22, {"G": 59}, "forewingLength", "forewing_far_from_the_others"),
    Fault(*ARSENAULT, 24, {"D": "femmelle"}, "sex", "sex_word_not_known", "female"),
    Fault(*ARSENAULT, 26, {"C": "après le dîner"}, "eventTime", "clock_not_read"),
    Fault(*ARSENAULT, 28, {"E": None, "F": None}, "decimalLatitude", "no_place_at_all"),
    Fault(*ARSENAULT, 30, {"G": "dans la moyenne"}, "forewingLength", "measure_not_a_number"),
    Fault(*ARSENAULT, 32, {"B": "16/11/2026"}, "eventDate", "day_outside_season"),
    Fault(*ARSENAULT, 33, {"A": "SM029"}, "tagCode", "tag_code_of_another_shape", "SM0029"),
    # Tobias, two files.
    Fault(*TAGGING, 4, {"A": "SMO043"}, "tagCode", "look_alike_in_tag_code", "SM0043"),
    Fault(*TAGGING, 6, {"E": -64.3712, "F": 45.9045}, "decimalLatitude", "latitude_longitude_crossed",
          "decimalLatitude=45.9045; decimalLongitude=-64.3712"),
    Fault(*TAGGING, 8, {"F": 64.3772}, "decimalLongitude", "minus_sign_missing", "-64.3772"),
    Fault(*TAGGING, 10, {"B": date(2025, 8, 27)}, "eventDate", "year_apart_from_the_others", "2026-08-27"),
    Fault(*TAGGING, 12, {"B": date(2026, 12, 8)}, "eventDate", "day_after_the_sheet_came", "2026-08-12"),
    Fault(*TAGGING, 14, {"C": time(22, 47)}, "eventTime", "release_in_the_dark", "10:47"),
    Fault(*TAGGING, 16, {"D": "femle"}, "sex", "sex_word_not_known", "female"),
    Fault(*TAGGING, 18, {"I": 5.2}, "forewingLength", "forewing_outside_bounds", "52"),
    Fault(*TAGGING, 20, {"E": None}, "decimalLatitude", "one_coordinate_missing"),
    Fault(*TAGGING, 28, {"F": -46.3689}, "decimalLatitude", "point_outside_the_region"),
    Fault(*TAGGING, 30, {"A": "SM0069 + SM0087"}, "tagCode", "several_codes_in_a_cell", "SM0069 + SM0087"),
    Fault(*TAGGING, 32, {"A": None}, "tagCode", "tag_code_missing", "SM0071"),
    Fault(*TAGGING, 34, {"E": None, "F": None, "G": None, "H": None}, "decimalLatitude", "no_place_at_all"),
    Fault(*TAGGING, 21, {}, "tagCode", "tag_in_two_of_your_sheets"),
    Fault(*OCTOBER, 5, {"B": "SM0060"}, "tagCode", "tag_in_two_of_your_sheets"),
    Fault(*OCTOBER, 7, {"A": "2026-09-31"}, "eventDate", "day_not_in_calendar"),
    Fault(*OCTOBER, 9, {"E": "New Brunswik"}, "stateProvince", "state_word_not_known", "New Brunswick"),
    Fault(*OCTOBER, 11, {"A": "weekend after the first frost"}, "eventDate", "day_not_read"),
    # Priya: tags swapped with others, one used twice.
    Fault(*WETMORE, 5, {"A": "SM0089"}, "tagCode", "tag_handed_to_somebody_else"),
    Fault(*WETMORE, 8, {"A": "SM0197"}, "tagCode", "tag_handed_to_somebody_else", "SM0097"),
    Fault(*WETMORE, 12, {}, "tagCode", "tag_twice_in_one_sheet"),
    Fault(*WETMORE, 15, {"A": "SM0101"}, "tagCode", "tag_twice_in_one_sheet"),
    Fault(*WETMORE, 17, {"B": "9", "C": "31"}, "eventDate", "day_not_in_calendar"),
    Fault(*WETMORE, 19, {"D": "2025"}, "eventDate", "year_apart_from_the_others", "2026-09-27"),
    Fault(*WETMORE, 21, {"E": "f?"}, "sex", "sex_uncertain"),
    Fault(*WETMORE, 25, {"I": "5.3 mm"}, "forewingLength", "forewing_outside_bounds", "53"),
    Fault(*WETMORE, 27, {"B": "", "C": "", "D": ""}, "eventDate", "day_missing"),
    Fault("p03/IMG_0412.xlsx", "", 0, {}, "file", "file_not_opened"),
    # Lucien: decimal commas.
    Fault(*BOURGOIN, 4, {"A": ""}, "tagCode", "tag_code_missing", "SM0128"),
    Fault(*BOURGOIN, 7, {"E": "64,8028"}, "decimalLongitude", "minus_sign_missing", "-64.8028"),
    Fault(*BOURGOIN, 11, {"D": "146,1089"}, "decimalLatitude", "position_off_the_globe"),
    Fault(*BOURGOIN, 13, {"H": "507"}, "forewingLength", "forewing_outside_bounds", "50.7"),
    Fault(*BOURGOIN, 15, {}, "tagCode", "tag_reported_lost_or_spoiled"),  # lost, says tags.csv
    Fault(*BOURGOIN, 17, {"C": "mle"}, "sex", "sex_word_not_known", "male"),
    Fault(*BOURGOIN, 19, {"D": "-46,7233 N"}, "decimalLatitude", "sign_against_letter"),
    Fault(*BOURGOIN, 23, {"B": "5 octobre"}, "eventDate", "day_without_year", "2026-10-05"),
    Fault(*BOURGOIN, 25, {"D": "46.73.27"}, "decimalLatitude", "position_not_read"),
    # The class: two teams in one workbook.
    Fault(*RENARDS, 6, {"A": "SMOI64"}, "tagCode", "look_alike_in_tag_code", "SM0164"),
    Fault(*RENARDS, 8, {"E": "=derrière la grange"}, "locality", "text_starts_like_a_formula",
          "derrière la grange"),
    Fault(*RENARDS, 12, {}, "tagCode", "tag_in_two_of_your_sheets"),
    Fault(*LOUTRES, 12, {"A": "SM0170"}, "tagCode", "tag_in_two_of_your_sheets"),
    Fault(*LOUTRES, 9, {"C": date(2026, 7, 19)}, "eventDate", "day_outside_season"),
    Fault(*LOUTRES, 2, {"F": "Endroit"}, "locality", "two_headings_for_one_field"),
    # Juniper, who writes her October days the short way.
    Fault(*JUNIPER, 1, {"E": "How pretty"}, "", "heading_not_known"),
    Fault(*JUNIPER, 5, {"A": "SM0561"}, "tagCode", "tags_shared_within_group"),
    Fault(*JUNIPER, 11, {"B": "Friday, September 21, 2026"}, "eventDate", "weekday_against_day"),
    Fault(*JUNIPER, 13, {"D": None}, "decimalLatitude", "no_place_at_all"),
    Fault(*JUNIPER_MORE, 2, {"B": "5/9/2026"}, "eventDate", "day_and_month_unclear", "2026-09-05"),
    Fault(*JUNIPER_MORE, 3, {"B": "9/10/2026"}, "eventDate", "day_and_month_unclear"),
    Fault(*JUNIPER_MORE, 4, {"B": "7/9/2026"}, "eventDate", "day_and_month_unclear", "2026-09-07"),
    Fault(*JUNIPER_MORE, 5, {"B": "10/8/2026"}, "eventDate", "day_and_month_unclear"),
    Fault(*JUNIPER_MORE, 6, {"B": "6/10/2026"}, "eventDate", "day_and_month_unclear", "2026-10-06"),
    # Mathéo: the spreadsheet swapped day and month wherever it could.
    Fault(*MATHEO, 2, {"B": date(2026, 9, 8)}, "eventDate", "day_and_month_crossed", "2026-08-09"),
    Fault(*MATHEO, 3, {"B": date(2026, 10, 9)}, "eventDate", "day_and_month_crossed", "2026-09-10"),
    Fault(*MATHEO, 4, {"B": date(2026, 10, 8)}, "eventDate", "day_and_month_crossed", "2026-08-10"),
    Fault("p07/a remplir.csv", "", 0, {}, "file", "file_holds_no_rows"),
    # Gwendolyn's transect.
    Fault(*TRANSECT, 3, {"G": 7}, "wingWear", "wear_outside_scale"),
    Fault(*TRANSECT, 4, {"E": "0.0000, 0.0000"}, "decimalLatitude", "point_at_zero_zero"),
    Fault(*TRANSECT, 6, {"F": 560}, "bodyMass", "mass_in_another_unit", "0.56"),
    Fault(*TRANSECT, 8, {"H": "spores seen"}, "parasiteCheck", "parasite_check_without_method"),
    Fault(*TRANSECT, 10, {"J": "Danaus plexipppus"}, "scientificName", "species_name_not_known",
          "Danaus plexippus"),
    Fault(*TRANSECT, 12, {"J": "Vanessa atalanta"}, "scientificName", "species_not_on_the_list"),
    Fault(*TRANSECT, 16, {"J": "amiral"}, "scientificName", "name_of_several_species"),
    Fault(*TRANSECT, 18, {"J": "Danaus"}, "scientificName", "name_only_to_genus"),
    Fault(*TRANSECT, 20, {"L": 0}, "coordinateUncertaintyInMeters", "uncertainty_not_usable"),
    Fault(*TRANSECT, 21, {}, "tagCode", "tag_in_two_peoples_sheets"),
    Fault(*TRANSECT, 22, {"A": "SL0407"}, "tagCode", "tag_of_another_season"),
    Fault(*TRANSECT, 24, {"E": "45, -64"}, "decimalLatitude", "whole_degrees_among_finer"),
    Fault(*TRANSECT, 30, {"B": "#VALUE!"}, "eventDate", "error_in_a_needed_cell"),
    Fault(*TRANSECT, 32, {"F": "#DIV/0!"}, "bodyMass", "error_cell"),
    Fault(*TRANSECT, 34, {"B": "=B33+2"}, "eventDate", "formula_without_saved_result"),
    Fault(*TRANSECT, 36, {"M": "ask gwen.p@example.org"}, "occurrenceRemarks", "private_detail_in_text"),
    # Ransford.
    Fault(*OKAFOR, 4, {"A": "SM0270"}, "tagCode", "tag_in_two_peoples_sheets"),
    Fault(*OKAFOR, 4, {}, "tagCode", "tag_handed_to_somebody_else"),
    Fault(*OKAFOR, 6, {"E": "44°72'43\"N"}, "decimalLatitude", "position_not_read"),
    Fault(*OKAFOR, 10, {"C": "23:20"}, "eventTime", "release_in_the_dark", "11:20"),
    Fault(*OKAFOR, 21, {}, "tagCode", "tag_reported_lost_or_spoiled"),  # spoiled, says tags.csv
    # Élise.
    Fault(*DOUCETTE, 5, {"G": "chenille"}, "lifeStage", "stage_without_a_wing"),
    Fault(*DOUCETTE, 9, {"G": "adutle"}, "lifeStage", "stage_word_not_known", "adult"),
    Fault(*DOUCETTE, 12, {"B": "5M0341"}, "tagCode", "look_alike_in_tag_code", "SM0341"),
    Fault(*DOUCETTE, 15, {"F": "Ã‰tang du Moulin-Roy"}, "locality", "letters_garbled", "Étang du Moulin-Roy"),
    Fault(*DOUCETTE, 20, {"A": None}, "eventDate", "day_missing"),
    Fault("p10/derniers.csv", "", 1, {}, "eventDate", "needed_column_missing"),
    # Barnaby, inches and month first.
    Fault(*RUSHWORTH, 4, {"A": "SM0663"}, "tagCode", "tag_not_handed_out", "SM0363"),
    Fault(*RUSHWORTH, 7, {"B": "9/31/26"}, "eventDate", "day_not_in_calendar"),
    Fault(*RUSHWORTH, 10, {"D": "twice my thumb"}, "forewingLength", "measure_not_a_number"),
    Fault(*RUSHWORTH, 13, {"C": "female?"}, "sex", "sex_uncertain"),
    # A village of fewer than 500 people is on no open list: one question to the coordinator.
    *(Fault(*RUSHWORTH, row, {}, "municipality", "town_not_known")
      for row in (3, 5, 10, 13, 14, 17, 18, 19, 23, 24, 25, 26, 27, 28)),
    Fault(*RUSHWORTH_SECOND, 6, {"B": "fell off"}, "tagCode", "tag_code_is_a_word"),
    Fault("p11/last three.csv", "", 1, {"B": "When we let it go"}, "eventDate",
          "heading_may_be_a_needed_one", "eventDate"),
    # Ingrid: her codes hold an E, which a spreadsheet takes for a power of ten.
    Fault(*SOLHEIM, 6, {"A": 400000}, "tagCode", "tag_code_became_a_number", "4E0005"),
    Fault(*SOLHEIM, 8, {"C": date(2026, 8, 28)}, "origin", "wild_with_day_of_emergence"),
    Fault(*SOLHEIM, 11, {"B": "reered"}, "origin", "origin_word_not_known", "reared"),
    Fault(*SOLHEIM, 14, {"F": "dead"}, "vitality", "died_before_release", "spoiled"),
    Fault(*SOLHEIM, 17, {"B": "bought"}, "origin", "origin_not_published"),
    Fault(*SOLHEIM, 19, {"A": 4e18}, "tagCode", "tag_code_became_a_number", "4E0018"),
    Fault(*SOLHEIM, 22, {"I": "Canda"}, "countryCode", "country_word_not_known", "CA"),
    Fault(*SOLHEIM, 24, {"K": date(2026, 5, 6)}, "individualCount", "count_became_a_day"),
    Fault(*SOLHEIM, 26, {"H": "Maine"}, "countryCode", "state_of_another_country", "US"),
    Fault(*SOLHEIM, 28, {"A": date(2026, 4, 27)}, "tagCode", "tag_code_became_a_date"),
    Fault(*SOLHEIM, 30, {"J": "#N/A"}, "forewingLength", "error_cell"),
    Fault("p12/wings again.xlsx", "", 0, {}, "file", "same_file_came_before"),
    # Théophile: a cell dragged down, and a digit or two of a far place.
    Fault(*GAGNON, 7, {"J": date(2026, 8, 25)}, "eventDate", "release_before_capture"),
    Fault(*GAGNON, 13, {"F": 48.3601, "G": -67.2172}, "decimalLatitude", "position_dragged_down", DRAGGED),
    Fault(*GAGNON, 14, {"F": 48.3602, "G": -67.2173}, "decimalLatitude", "position_dragged_down", DRAGGED),
    Fault(*GAGNON, 15, {"F": 48.3603, "G": -67.2174}, "decimalLatitude", "position_dragged_down", DRAGGED),
    Fault(*GAGNON, 16, {"F": 48.3604, "G": -67.2175}, "decimalLatitude", "position_dragged_down", DRAGGED),
    Fault(*GAGNON, 17, {"F": 48.3605, "G": -67.2176}, "decimalLatitude", "position_dragged_down", DRAGGED),
    Fault(*GAGNON, 19, {}, "decimalLatitude", "far_from_the_same_day"),
    Fault(*GAGNON, 20, {"F": 45.4642, "G": -73.4181}, "decimalLatitude", "far_from_the_same_day"),
    # Dorothea, Wei-Lin, Coraline.
    Fault(*QUILL, 8, {"A": "SM0450b"}, "tagCode", "tag_code_of_another_shape", "SM0450"),
    Fault(*MACASKILL, 8, {"B": "SM0482 and SM0500"}, "tagCode", "several_codes_in_a_cell", "SM0482 + SM0500"),
    Fault(*MACASKILL, 12, {"F": "Nova Scottia"}, "stateProvince", "state_word_not_known", "Nova Scotia"),
    Fault(*MACASKILL, 16, {"C": "the day of the fall supper"}, "eventDate", "day_not_read"),
    Fault(*BENOIT, 5, {"A": "mardi 17 août 2026"}, "eventDate", "weekday_against_day", "2026-08-18"),
    Fault(*BENOIT, 9, {"G": 93, "H": 49}, "forewingLength", "span_and_forewing_crossed",
          "forewingLength=49; wingSpan=93"),
    Fault(*BENOIT, 13, {"F": "Cannada"}, "countryCode", "country_word_not_known", "CA"),
    Fault(*BENOIT, 8, {}, "tagCode", "tag_twice_in_one_sheet"),
    Fault(*BENOIT, 17, {"B": "SM0512"}, "tagCode", "tag_twice_in_one_sheet"),
    # The guides, and sheets whose sender is told by something else than the folder.
    Fault(*GUIDES, 9, {"H": "call 902-555-0188 about the field"}, "occurrenceRemarks",
          "private_detail_in_text"),
    Fault(*GUIDES, 12, {"F": 62.0207}, "decimalLongitude", "minus_sign_missing", "-62.0207"),
    Fault(*GUIDES, 15, {"G": "@ the dyke"}, "locality", "text_starts_like_a_formula", "the dyke"),
    Fault(*GUIDES, 18, {"E": -62.0157, "F": 45.6001}, "decimalLatitude", "latitude_longitude_crossed",
          "decimalLatitude=45.6001; decimalLongitude=-62.0157"),
    Fault(*GUIDES, 21, {"C": "around lunch"}, "eventTime", "clock_not_read"),
    Fault(*BOOK, 13, {"E": 45.2039, "F": -68.3704}, "decimalLatitude", "point_in_another_country"),
    Fault(*MAC, 2, {}, "eventDate", "days_four_years_off", "2026-08-26"),
    Fault(*MAC, 3, {}, "eventDate", "days_four_years_off", "2026-08-26"),
    Fault(*MAC, 4, {}, "eventDate", "days_four_years_off", "2026-08-28"),
    Fault(*MAC, 5, {}, "eventDate", "days_four_years_off", "2026-08-30"),
    Fault(*MAC, 6, {}, "eventDate", "days_four_years_off", "2026-09-13"),
    Fault(*MAC, 7, {}, "eventDate", "days_four_years_off", "2026-09-14"),
    Fault(*MAC, 8, {}, "eventDate", "days_four_years_off", "2026-09-18"),
    Fault(*MAC, 9, {}, "eventDate", "days_four_years_off", "2026-09-20"),
    Fault("fair stall.csv", "", 0, {}, "file", "sender_not_known"),
    Fault(*STALL, 2, {}, "tagCode", "tag_not_handed_out"),
    Fault(*STALL, 3, {}, "tagCode", "tag_not_handed_out"),
    Fault(*STALL, 4, {}, "tagCode", "tag_not_handed_out"),
    # Finds that do not go with their release.
    Fault(*FINDS, 8, {}, "eventDate", "found_before_release"),
    Fault(*FINDS, 9, {}, "decimalLatitude", "travelled_too_fast"),
    Fault(*FINDS, 10, {}, "sex", "sex_differs_from_release"),
    Fault(*FINDS, 11, {}, "tagCode", "find_without_release"),
    Fault(*HALLAZGOS, 5, {}, "scientificName", "species_differs_from_release"),
    Fault(*MARIPOSAS, 4, {}, "tagCode", "found_code_not_known"),
)  # fmt: skip

# What is told for information only and follows from who the people are, not from a slip.
INFORMATION = (
    ("minor_named", "two senders are children: every row of theirs"),
    ("release_at_home", "some points lie within 500 m of a home on file"),
    ("several_sheets_with_data", "the class has two sheets, Dorothea three"),
)
