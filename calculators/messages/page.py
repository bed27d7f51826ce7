"""The words of the page's own scripts and templates, which the site hands to them as JSON."""

#: Read by the scripts of the page under these keys; {braces} are filled there.
PAGE: dict[str, str] = {
    # the form, as printed
    "needs_script": "Without JavaScript this page is a worked example: the form below cannot answer.",
    "optional": "optional",
    "left_out": "If empty: {without}",
    "choose_picture": "Choose a picture, drop it here or paste it",
    "choose_file": "Choose a file or drop it here",
    "take_photograph": "Take a photograph",
    "remove_file": "Remove",
    "eyedropper": "Pick it from a picture",
    "eyedropper_touch": "Touch the colour in the picture, or move with the arrow keys.",
    "eyedropper_unreadable": "{name} cannot be shown here. Choose a photograph or a drawing: PNG, JPEG, WebP or SVG.",
    "row": "Row",
    "add_row": "Add a row",
    "remove_row": "Remove this row",
    "copy_link": "Copy link",
    "keep_in_job": "Use this file in the other calculators",
    "shared_used": "Taken from your other calculations: {names}.",
    "shared_not_wanted": "Show the worked example",
    "shared_offered": "You have since changed these in another calculator: {names}.",
    "shared_take": "Use the new values",
    "shared_stored": "{name} is kept. The other calculators will use it.",
    "empty": "Empty the form",
    "reset": "Back to the worked example",
    "inputs": "What you can type",
    "input_label": "Field",
    "input_takes": "Takes",
    "input_default": "If you type nothing",
    "input_name": "Name on the command line",
    "only_where_is": "Only if “{label}” is “{value}”.",
    "only_if_filled": "Only if “{label}” is filled in.",
    "sheet": "Picture and values",
    "seldom": "Seldom changed",
    # the answer
    "answer": "Answer",
    "worked_example": "Worked example",
    "starting": "Worked example. Starting…",
    "starting_share": "Worked example. Starting… {received} of {expected} MB",
    "loading_title": "Loading the calculators",
    "loading_share": "Loading the calculators: {received} of {expected} MB.",
    "loading_meanwhile": "Meanwhile you can read the worked example and every other page. What you type is kept.",
    "verdict_more": "More about this",
    "verdict_open": "Show the reasons",
    "figures": "Figures",
    "older_answer": "Answer to your earlier values",
    "examples_answer": "Answer to the worked example",
    "sources": "Sources:",
    "common_practice": "common practice",
    "common_practice_as_source": "common practice",
    "estimate": "estimate",
    "estimate_as_source": "our own estimates",
    "drawn_up": "drawn up by the project",
    "drawn_up_as_source": "paint colours drawn up by the project",
    "working": "Working…",
    "stop": "Stop",
    "try_again": "Try again",
    "details": "Details for a report",
    "save_file": "Save {name} ({size})",
    "one_problem": "One field needs another look",
    "several_problems": "{count} fields need another look",
    "first_problem": "{title}. The first is {field}.",
    "only_problem": "{title}: {field}.",
    # a text that is proposed as a file of the project
    "copy_text": "Copy the text",
    "open_as_new_file": "Open it as a new file in the project",
    "message_copy": "Copy the message",
    "message_copied": "The message is on the clipboard.",
    "message_not_copied": "This browser did not let the message be copied. It is selected: copy it by hand.",
    "text_copied": "The text is on the clipboard.",
    "text_not_copied": "This browser did not let the text be copied. Save the file, and open it.",
    "new_file_filled": "A new file with this text opens in another tab. Check it there and send it in.",
    "new_file_to_paste": (
        "The text is too long for a web address. It is on the clipboard: paste it into the new file that opens "
        "in another tab."
    ),
    "new_file_to_copy": (
        "The text is too long for a web address. Copy it, and paste it into the new file that opens in another tab."
    ),
    # why there is no answer
    "no_engine_title": "The calculator has not started",
    "no_engine_text": "What you typed is kept. The network may have failed while the calculator was loading.",
    "no_wasm_title": "The calculators cannot run in this browser",
    "no_wasm_text": (
        "They need WebAssembly, and this browser does not have it or has it switched off. A strict security "
        "mode often does that: allow it for this site, or open the page in another browser. What you typed is "
        "kept, and the rest of the book can be read."
    ),
    "fault_title": "The calculator failed",
    "fault_text": "Sorry, this is our fault, not yours. What you typed is kept.",
    "too_long_title": "That took too long",
    "too_long_text": "It was stopped after {limit} seconds. What you typed is kept.",
    "stopped_title": "Stopped",
    "stopped_text": "You stopped it. What you typed is kept.",
    # files
    "from_picture": "Read from the picture",
    "from_calculator": "From “{title}”",
    "asked_again": "This is another picture. Type these again, since they belonged to the last one: {names}.",
    "asked_again_keep": "Keep the old values",
    "asked_first": "This is your own picture. Type these for it, since they belonged to the worked example: {names}.",
    "asked_beside": "Type it for this picture.",
    "picture_facts": "{width} × {height} px, {size}",
    "file_too_big": "{name} is {size}. This page reads files up to {most}.",
    "file_unreadable": "{name} could not be read. It may have been moved, or it may be a folder.",
    "file_not_stored": "The file is used now but not kept for your next visit: this page did not come over https.",
    # tables of data
    "filter_rows": "Show only rows with these words",
    "rows_visible": "{visible} of {all} rows",
    "rows_all": "{all} rows",
    "unfold_row": "More of this row: {row}",
    "unfold": "More of this row",
    "sort_by": "Sort by {column}",
    "sorted_up": "{rows}, sorted by {column}",
    "sorted_down": "{rows}, sorted by {column}, in reverse",
    "table_as_files": "The whole table, with every source:",
    "back_to_table": "Back to the table",
    "row_has_moved": "This row has a new name:",
    "bare_print": "(unsealed print)",
    "values_row": "Row",
    "values_part": "What",
    "values_value": "Value",
    "values_source": "Source",
    "status_read": "Read",
    "status_read_means": "We read it in the document, or in the copy that its source names.",
    "status_package": "From a package",
    "status_package_means": "It comes with a software package. The source names its version.",
    "status_computed": "Computed",
    "status_computed_means": "We worked it out from the rule in the source.",
    "status_common_practice": "Common practice",
    "status_common_practice_means": (
        "What the trade does; we read nothing published on it. In a row without a value this goes for its text."
    ),
    "status_estimate": "Estimate",
    "status_estimate_means": "Our own guess from what the trade says. Try it on a test piece first.",
    "status_drawn_up": "Drawn up by the project",
    "status_drawn_up_means": "Made for this book, such as a colour that stands for the name of a paint.",
    "status_memory": "From memory",
    "status_memory_means": "We know it but did not look it up. Check it before you rely on it.",
    # points on a picture, and the loupe
    "points": "Points on the picture",
    "point_at": "x {x}, y {y}",
    "points_smaller": "Smaller picture",
    "points_larger": "Larger picture",
    "points_whole": "Fit",
    "points_help": (
        "Drag each point to its place. Arrow keys move a point by 1 px, with Shift by 10 px, with Alt by 0.1 px."
    ),
    "points_example": "The drawing of the worked example",
    "points_status": "{name}: {at}",
    "points_spread": "The points of the worked example are now spread over your picture. Put each in its place.",
    "points_outside": "Some points are outside this picture, because it is smaller than the last one.",
    "points_bring_in": "Bring them back in",
    # areas that are marked
    "marks_area": "What area {number} means",
    "marks_status": "Area {number}: {meaning}.",
    "marks_single": "Mark single areas of a group",
    "marks_cleared": "These marks belonged to the last picture and were removed: {marks}.",
    "points_unseen": "This browser cannot show the picture. Type the points.",
    "loupe": "Loupe",
    "loupe_times": "{times} times",
    "loupe_step": "Loupe {times} times",
    "loupe_keys": "Arrow keys move it, Escape closes it.",
    # a picture on two paints
    "border_move": "Border of the two paints: position",
    "border_turn": "Border of the two paints: angle",
    "border_at": "{value} %",
    "border_turned": "{value}°",
    "border_help": (
        "Drag the border by one grip and turn it by the other. Arrow keys change it by 1, with Shift by more, "
        "with Alt by 0.1."
    ),
    "border_status": "Border at {percent} %, turned by {degrees}°",
    "scenes_wipe": "Share of the picture that shows the left side",
    "scenes_left": "Left of the slider",
    "scenes_right": "Right of the slider",
    "scenes_marks": "Mark the faults",
    "mark_bare": "does not print",
    "mark_lost": "hard to see",
    "mark_border": "border shows",
    # where values come from
    "close": "Close",
    "undo": "Undo",
    "empty_done": "The form is empty.",
    "still_to_fill": "Still to fill in: {names}.",
    "reset_done": "The worked example is back.",
    "link_copied": "A link with these values is on the clipboard.",
    "link_by_hand": "Copy this link; it holds these values.",
    "link_without_files": "It does not hold files or pictures.",
    "from_link": "These values came from a link. Your own are kept until you change something here.",
    "own_values": "Back to my own values",
    "link_version": "This link comes from another version ({version}) of this page, which cannot read it.",
    "link_unknown": "The link names fields that this calculator does not have: {names}.",
    "other_tab_changed": "These values were changed in another tab.",
    "other_tab_waits": "This calculator was changed in another tab. What you type here will replace those changes.",
    "take_them": "Use the values of the other tab",
    "unstored_unavailable": "This browser stores nothing for this site. What you type is lost when you close the page.",
    "unstored_changed": "Another tab has changed this job meanwhile. Nothing was overwritten. Try again.",
    "unstored_newer": (
        "A newer version of this site stored your values. They stay as they are, and what you type here is not kept."
    ),
    "unstored_older": (
        "This page cannot read values that an older version of this site stored. They stay as they are, and "
        "what you type here is not kept."
    ),
    "unstored_failed": "What you typed could not be kept: the storage of this device may be full.",
    # the header
    "show_inches": "Show lengths in inches",
    "show_millimetres": "Show lengths in millimetres",
    "offline_off": "Save for offline",
    "offline_saving": "Saving … {percent} %",
    "offline_stopped": "Saving is stopped",
    "offline_ready": "Ready offline",
    "offline_failed": "Not saved. Try again",
    "offline_full": "Not enough storage",
    "offline_unavailable": "Cannot be saved here",
    # saving the book, and newer editions of it
    "saving_off": (
        "Keep the whole book on this device, calculators and all? It then works without a network. This "
        "downloads about {fetched} and takes {total} of storage."
    ),
    "saving_off_unmeasured": (
        "Keep the whole book on this device, calculators and all? It then works without a network."
    ),
    "saving_sparing": "Your device asks to save data, so nothing is downloaded until you say so.",
    "saving_saving": "{done} of {total} saved. The pages for the bench come first. You can use the book meanwhile.",
    "saving_saving_unmeasured": "Saving has begun. You can use the book meanwhile.",
    "saving_stopped": "Saving is stopped. What is already saved stays on the device, and saving can go on from there.",
    "saving_failed": (
        "Saving was interrupted: the network failed, or the book changed meanwhile. What is already saved "
        "stays, and saving goes on from there."
    ),
    "saving_full": (
        "This device does not have {total} of free storage. Free some, then try again. With a network you can "
        "still read the book."
    ),
    "saving_ready": "The whole book is on this device. It works without a network and takes {total}.",
    "saving_unavailable": (
        "This browser does not let the book be saved: it may be a private window, an older browser, or an "
        "address without https. With a network you can still read it."
    ),
    "save_now": "Save the book",
    "save_go_on": "Go on saving",
    "not_now": "Not now",
    "edition_title": "A newer edition",
    "edition_text": (
        "A newer edition of this book is here. Cautions or figures may have changed. What you typed is kept, "
        "unless this is a private window that keeps nothing."
    ),
    "edition_unfetched": (
        "There is a newer edition of this book. Cautions or figures may have changed. Your device asks to save data, "
        "so it is not fetched until you take it."
    ),
    "edition_fetching": "The newer edition is being fetched. You can use the book meanwhile.",
    "edition_take": "Take it now",
    "edition_later": "Later",
    # at the bench: one step of a how-to at a time, and the timers of waits
    "bench_step": "Step {step} of {of}",
    "bench_caution": "Before step {step} of {of}",
    "bench_end": "The end",
    "bench_next": "Next step",
    "bench_understood": "Understood",
    "bench_close": "Leave the bench",
    "bench_done": "{done} of {of} steps done.",
    "bench_awake": "The screen stays on while you read here.",
    "bench_sleeps": "This browser cannot keep the screen on. Set your device to do so.",
    "timer_start": "Start a timer: {label}, {range}",
    "timer_started": "Timer started: {label}. {when}",
    "timer_ends": "Ends about {time}.",
    "timer_ends_from": "Ends about {low} to {high}.",
    "timer_ready": "It may be ready. {ends}",
    "timer_over": "The usual time has passed. {ends}",
    "timer_rings": "Time is up",
    "timer_away": "It rang at {time}, while you were away.",
    "timer_cancel": "Cancel",
    "timer_done": "Done",
    "timer_removed": "{label}: the timer is removed.",
    "timer_back": "{label}: the timer is back.",
    "timer_silent": "Touch the page once so that you can hear the timers.",
    "timers_unstored": "This browser stores nothing for this site. The timers end when you close the page.",
}
