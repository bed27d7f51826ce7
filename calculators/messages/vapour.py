"""Reasons that the calculator of vapour gives, and the words of its table and chart."""

VAPOUR_OVER = (
    "{name}: {ppm} ppm ({mass} mg/m³) in well-mixed air is {times} times its {kind} limit of {limit} ppm ({agency})."
)
VAPOUR_SUM_OVER = (
    "The shares of all parts in their {kind} limits add up to {times}, and 1 is the limit (29 CFR 1910.1000(d)(2))."
)
VAPOUR_EXPLOSIVE = (
    "Well-mixed air reaches {percent} % of the lower explosive limit. Above 10 % nobody works here: no spark, no"
    " flame, more air."
)
VAPOUR_NEAR_WORK = (
    "Well-mixed air stays below these limits, but near the work it is 3 to 10 times as much. There it comes to {times}"
    " times a limit: {what}."
)
VAPOUR_BELOW = (
    "Even at 10 times the well-mixed figure it stays below the limits in the table: at most {percent} % of one, {what}."
)
VAPOUR_UNKNOWN = "There is no verdict for a working day: the tables have no limit for {names}. That is no permission."
VAPOUR_LACKING = "No verdict for {kind}: no figure for {names}."
VAPOUR_PLANNING = (
    "This is for planning, never a clearance. It says nothing about whether anybody may breathe this air or enter."
)
VAPOUR_NOT_COUNTED = "Spray mist is not counted. Workplace limits do not cover children, pregnancy or asthma."
VAPOUR_GOVERNS = "The product's safety data sheet and local limits, which are often lower, come before these."
VAPOUR_PROPELLANT = (
    "A can also releases its propellant, often a third of its weight. Add it as a part, from the data sheet."
)
VAPOUR_SKIN = "It also goes through the skin, which no figure here counts: {names}. Wear the gloves of the data sheet."
VAPOUR_STILL = "No fresh air comes in, so nothing is carried off: the vapour stays until you air the room."
DO_AIR_MORE = (
    "Work outdoors, evaporate less at once, or move {flow_m3h} of fresh air at least, by an extract fan made for"
    " vapours."
)
DO_OUTDOORS = "Work outdoors: no airflow that a hobby room has would do."
DO_KEEP_AWAY = (
    "Keep your face away from the work, let the air flow from behind you, and keep others out until it has gone."
)
DO_SHEET_FOR_LIMIT = "Take the limit from the product's safety data sheet, and type it as your local limit."
VAPOUR_REFUSED_WHY = "No airflow worked out here makes its isocyanates bearable: so this page works nothing out."

#: What a limit is over, in words.
VAPOUR_KINDS = {"ceiling": "ceiling", "short": "15-minute", "day": "working-day", "explosive": "explosive"}
VAPOUR_ROWS = {
    "ceiling": "Highest moment, ceiling",
    "short": "Worst 15 minutes",
    "day": "Worst 8 hours",
    "explosive": "Highest moment, 10 % of the explosive limit",
}
AGENCIES = {"niosh": "NIOSH", "osha": "OSHA", "local": "your local limit"}
MIXTURE, ALL_PARTS = "All parts together", "all parts together"
ANOTHER_PART = "the part in row {row}"
PROPELLANT_PART = "the propellant"
NO_LIMIT, LIMIT_PPM = "not in the table", "{ppm} ppm, {agency}"
LIMIT_PPM_MASS, PPM_MASS = "{ppm} ppm ({mass} mg/m³), {agency}", "{ppm} ppm ({mass} mg/m³)"
SUM_OF_SHARES = "sum of shares"

NO_DENSITY = "There is no density for {names}"
TYPE_DENSITY = "Weigh the amount and type grams, or type the density from the data sheet."
NOTHING_EVAPORATES = "None of these parts evaporates"
ADD_A_PART = "Add a solvent or the propellant from the product's data sheet."

VAPOUR_X, VAPOUR_Y = "hours from the beginning", "{name}, ppm"
VAPOUR_MIXED, VAPOUR_TIMES = "well mixed", "{times} times"
VAPOUR_CHART_ALT = (
    "{name} in the air over {hours} hours: the line rises to {peak} ppm in well-mixed air and then falls. Two lines"
    " show 3 and 10 times that. {limits}"
)
VAPOUR_CHART_DAY, VAPOUR_CHART_SHORT = "8-hour limit", "15-minute limit"
VAPOUR_CHART_LIMIT = "The {kind} is {ppm} ppm."
