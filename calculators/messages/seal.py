"""Reasons that the calculators of the stage seal give."""

AIR_WET = (
    "The surface is {margin_kelvin} above the dew point of {dew_celsius}. Coating practice wants at least"
    " {needed_kelvin}, since water may settle on it."
)
AIR_BELOW_DEW = "The surface is {below_kelvin} colder than the dew point of {dew_celsius}. Water settles on it."
AIR_WET_AT_WORST = (
    "The surface is {margin_kelvin} above the dew point as read, but the margin is {worst_kelvin} if the instruments"
    " err the bad way. Coating practice wants {needed_kelvin}."
)
AIR_ABOVE_DEW = (
    "The surface is {margin_kelvin} above the dew point, and {worst_kelvin} if the instruments err the bad way."
    " Coating practice wants {needed_kelvin}."
)
AIR_COOLED = (
    "As this coat dries it may cool the surface by {low_kelvin} to {high_kelvin} (an estimate). That takes up the"
    " margin of {needed_kelvin} to the dew point: it may turn milky."
)
AIR_COOLED_AT_WORST = (
    "As this coat dries it may cool the surface by {low_kelvin} to {high_kelvin} (an estimate). At the bad end of that"
    " and of the readings the margin to the dew point is {left_kelvin}, and {needed_kelvin} is wanted."
)
AIR_HUMID = "This coat may blush above {low} to {high} % humidity (an estimate), and you have {percent} %."
AIR_HUMID_AT_WORST = (
    "This coat may blush above {low} to {high} % humidity (an estimate). With the meter's error you may have {worst} %."
)
AIR_COLD = (
    "Air or surface may be colder than this coat works in: {low_celsius} to {high_celsius} at least (an estimate)."
)
AIR_PASSES = "It passes also if the coat cools the surface by {high_kelvin}, the most that we expect (an estimate)."
FILM_HUMID = (
    "Film takes up water from the air above {low} to {high} % humidity (an estimate), and you have {percent} %."
)
FILM_HUMID_AT_WORST = (
    "Film takes up water from the air above {low} to {high} % humidity (an estimate). With the meter's error you may"
    " have"
    " {worst} %."
)
FILM_PASSES = "Neither its temperature nor the humidity speaks against printing on it."
#: What damp backing does, by whether the printer has a hot fuser.
FILM_IN_FUSER = "Damp backing paper blisters in a hot fuser."
FILM_IN_INKJET = "Damp backing paper cockles, and the ink bleeds."

DO_WARM_SURFACE = (
    "Let sheet, board and can come to the temperature of the room: in this air the surface needs {needed_celsius} at"
    " least."
)
DO_DRY_AIR = "Wait for a drier day, or dry the room: with this surface the meter may read {most} % at most."
DO_NOT_HERE = "At these temperatures no humidity passes: warm the room and the surface first."
DO_TEST = "Spray a mist on a waste corner first, and go on only if it dries clear. Thin passes cool less."
DO_WARM_ROOM = "Warm the room and leave coat and work in it for an hour. Never warm a can."
DO_GO_ON = "Read both instruments again just before you spray."
DO_TAKE_ANOTHER = "In this air these coats of the table pass: {coats}."
DO_KEEP_FILM = (
    "Keep the film in its closed bag until the air is drier. Warm a cold pack to the room, closed, before you open it."
)
DO_PRINT = "Print at once, one sheet at a time, and put the rest back into its closed bag."
WARMED_AIR = (
    "Warmed by {by_kelvin} without more water in it, this air would read {percent} %. A burner without a flue adds"
    " water."
)
TWO_PART_REFUSED = (
    "Clear urethane of two parts contains isocyanates: one exposure can leave lasting asthma, and a cartridge mask is"
    " not"
    " enough."
)
TWO_PART_INSTEAD = "Use a clear without hardener. Leave this one to a workshop with supplied air."

CHECK_DEW, CHECK_COOLING, CHECK_HUMIDITY, CHECK_COLD = (
    "Condensation",
    "Blush: cooled as it dries",
    "Blush: humidity",
    "Temperature",
)
CHECK_FILM_HUMIDITY = "Humidity for the film"
KELVIN_ABOVE = "{needed_kelvin} above the dew point"
KELVIN_BEST_WORST = "{margin_kelvin}, at worst {worst_kelvin}"
PERCENT_AT_MOST = "{low} to {high} % at most"
PERCENT_BEST_WORST = "{percent} %, at worst {worst} %"
CELSIUS_AT_LEAST = "{low_celsius} to {high_celsius} at least"
CELSIUS_COLDEST = "{coldest_celsius}, at worst {worst_celsius}"

AIR_X, AIR_Y = "air, °C", "humidity, %"
AIR_CONDENSES, AIR_PASSES_ALL, AIR_YOURS = "condensation", "passes all", "your air"
AIR_CHART_ALT = (
    "Relative humidity against the temperature of the air. The shaded air passes every check at the bad end of the"
    " readings."
    " Your air is at {air} °C and {percent} %: {place}. A line shows where water settles first."
)
AIR_INSIDE, AIR_OUTSIDE = "inside the shaded area", "outside it"
