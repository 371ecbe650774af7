#!/usr/bin/env python3
"""Every English text of the program itself stands in each assets/text/ui.LANG.json, and nothing else does.

Texts are found as the code hands them over: the literals inside words(...), those marked said(...), the
defaults of screens::WordsView, and, for a variable inside words(...), the place its texts come from, which
must be named in SOURCES below. The pictures' words are found in src/session and in the drawings' headers.

assets/text/said.LANG.json holds what the layers below the window say: every sentence of the layers, with {} for
each value and {own} for a name or a path. Each of its texts must still be said somewhere. Run: check_ui_words.py REPOSITORY"""
import json
import pathlib
import re
import sys

from code_texts import LITERAL, first_argument, literals, sentences, wholes, without_comments

root = pathlib.Path(sys.argv[1])
problems = []

def read(path):
    return without_comments((root / path).read_text(encoding="utf-8"))


def block(path, opening):
    """The body in braces that follows `opening` in a file."""
    code = read(path)
    at = code.find(opening)
    if at < 0:
        raise SystemExit(f"{path} has no {opening} any more; say in check_ui_words.py where its texts are now")
    at = code.index("{", at)
    depth, end = 0, at
    while True:
        depth += {"{": 1, "}": -1}.get(code[end], 0)
        end += 1
        if depth == 0:
            return code[at:end]


def constant(path, opening):
    code = read(path)
    at = code.index(opening)
    return ["".join(literals(code[at:code.index(";", at)]))]


def checklists(want):
    """`want(step)` of every step of the checklists."""
    for file in sorted((root / "checklists").glob("*.json")):
        for step in json.loads(file.read_text(encoding="utf-8")).get("steps", []):
            yield from want(step)


def label_of(name):
    """As session::label_of does it."""
    name = name.replace("_", " ").replace("at 20C", "at 20 °C")
    return name[:1].upper() + name[1:]


def struct_words(path, struct):
    """The words a drawing brings along: its texts with a word of three letters in them."""
    return [t for t in literals(block(path, struct)) if re.search(r"[a-z]{3}", t)]


def column_labels():
    return [c["label"] for c in checklists(lambda s: s.get("columns", []))]


def picture_words():
    return [t for path, struct in (("src/drawing/wiring.h", "struct WiringDiagram"),
                                   ("src/drawing/pt_diagram.h", "struct PtDiagram"),
                                   ("src/drawing/clearance.h", "struct ClearanceSection"),
                                   ("src/drawing/ct_taps.h", "struct CtTaps"),
                                   ("src/drawing/purge_curve.h", "struct PurgeCurve"),
                                   ("src/drawing/leak_line.h", "struct LeakLine"),
                                   ("src/drawing/loop_scale.h", "struct LoopScale"),
                                   ("src/drawing/resistor_window.h", "struct ResistorRuler"),
                                   ("src/drawing/time_plan.h", "struct TimePlan"),
                                   ("src/drawing/time_limits.h", "struct TimeLimits"),
                                   ("src/drawing/phase_sum.h", "struct PhaseSum"),
                                   ("src/drawing/leak_found.h", "struct LeakFound"),
                                   ("src/drawing/air_left.h", "struct AirLeft"),
                                   ("src/drawing/frost_line.h", "struct FrostLine"),
                                   ("src/drawing/mass_account.h", "struct MassAccount"),
                                   ("src/drawing/coil_states.h", "struct CoilStates"),
                                   ("src/drawing/thread_plane.h", "struct ThreadPlane"),
                                   ("src/drawing/bolt_load.h", "struct BoltLoad"),
                                   ("src/drawing/sight_line.h", "struct SightLine"),
                                   ("src/drawing/cable_runs.h", "struct CableRuns"))
            for t in struct_words(path, struct)]


def figure_labels():
    return [label_of(n) for n in checklists(lambda s: s.get("show", []))]


def profile_table():
    """The literals of each field of a profile: path, label, group."""
    body = read("src/model/profile.cpp")
    return re.findall(r'\{"([a-z_]+\.[a-z_]+)",\s*"([^"]+)",\s*"([^"]+)"', body)


def field_labels():
    return [label for _, label, _ in profile_table()]


def field_groups():
    return sorted({group for _, _, group in profile_table()})


def derived_labels():
    """As model::derive makes them: a level's name stands in some."""
    code = read("src/model/profile_derived.cpp")
    levels = re.findall(r'\{"\w+", "([^"]+)"\}', code[code.index("levels[]"):code.index("};", code.index("levels[]"))])
    formats = re.findall(r'fmt::format\("([^"]*\{\}[^"]*)",\s*level\.label\)', code)
    plain = re.findall(r'(?:add|derive_cycles)\((?:"[^"]+", )+"([A-Z][^"]+)"', code)
    if len(levels) != 3 or len(formats) != 4 or len(plain) < 6:
        raise SystemExit("check_ui_words.py does not find the labels of model::derive any more")
    return [f.replace("{}", level) for f in formats for level in levels] + plain


def facet_labels():
    code = read("src/files/profile_library.cpp")
    body = code[code.index("facet_paths[]"):]
    return re.findall(r'"[\w.]+",\s*"([A-Z]\w+)"', body[:body.index("};")])


MARKED = "said(...) in the same file"
LOWER = "a lower layer says it; looked up in said.LANG.json"

# What a variable inside words(...) can hold: a list of texts, or where else they are found. A bare name
# counts in its own file only.
SOURCES = {
    "model::status_name": lambda: literals(block("src/model/job_state.cpp", "char const* status_name(")),
    "seal::role_name": lambda: literals(block("src/seal/people.cpp", "char const* role_name(")),
    "media::phase_name": lambda: literals(block("src/media/set_writer.cpp", "char const* phase_name(")),
    "media::state_name": lambda: state_names(),
    "session::signature_meaning": lambda: constant("src/session/sealing.h", "signature_meaning ="),
    "seal::record_footer": lambda: constant("src/seal/record.h", "record_footer ="),
    "mark_word": lambda: [t for t in literals(block("src/drawing/marks.cpp", "char const* mark_word(")) if t],
    "field.label": field_labels,
    "field.group": field_groups,
    "facet.label": facet_labels,
    "derived.label": derived_labels,
    "difference.label": lambda: derived_labels() + field_labels(),
    "term.label": lambda: gas_words("gas_files.cpp", "static std::vector<TermGroup> const groups"),
    "kind->label": lambda: gas_kinds(),
    "kind->from_label": lambda: gas_kinds(),
    "kind->to_label": lambda: gas_kinds(),
    "controller.cpp sheet.entry->problem": lambda: said_in("src/app/entry.cpp", "src/touch", "src/screens"),
    "foreseen.cpp shown.label": figure_labels,
    "foreseen.cpp shown.value": lambda: figure_values(),
    "gas_files.cpp group.label": lambda: gas_words("gas_files.cpp", "static std::vector<TermGroup> const groups"),
    "gas_files.cpp label_of": lambda: gas_kinds(),
    "gas_files.cpp title": MARKED,
    "job_pack.cpp title": MARKED,
    "page_jobs.cpp s.word": MARKED,
    "page_ledger.cpp group.label": lambda: gas_words("gas_files.cpp", "static std::vector<TermGroup> const groups"),
    "page_ledger_entry.cpp k.label": lambda: gas_kinds(),
    "page_move.cpp k.word": MARKED,
    "page_new_outage.cpp fact.hint": MARKED,
    "page_new_outage.cpp fact.label": MARKED,
    "page_parts.cpp field_text(field).label": MARKED,
    "page_parts.cpp text.hint": MARKED,
    "page_parts.cpp text.label": MARKED,
    "page_profile_edit.cpp group": field_groups,
    "page_profile_edit.cpp m_group": field_groups,
    "page_profile_transfer.cpp t.side": lambda: ["not usable"],
    "page_settings.cpp t.detail": MARKED,
    "page_settings.cpp t.label": MARKED,
    "page_step.cpp c.label": column_labels,
    "picture_cabinet.cpp name": LOWER,
    "picture_gas.cpp d.liquid": picture_words,
    "picture_gas.cpp text": picture_words,
    "picture_mechanical.cpp end": LOWER,
    "picture_mechanical.cpp name": LOWER,
    "picture_mechanical.cpp part.label": LOWER,
    "picture_mechanical.cpp seal": LOWER,
    "picture_mechanical.cpp text": LOWER,
    "picture_plan.cpp title": LOWER,
    "picture_reading.cpp step.title": LOWER,
    "picture_series.cpp level_text": MARKED,
    "picture_thread.cpp text": LOWER,
    "picture_wiring.cpp label": MARKED,
    "picture_wiring.cpp text": LOWER,
    "record_document.cpp f.label": figure_labels,
    "record_document.cpp f.value": lambda: figure_values(),
    "record_document.cpp label": lambda: derived_labels() + field_labels(),
    "record_document.cpp profile.status": lambda: ["draft", "checked", "released", "withdrawn"],
    "record_document.cpp s.meaning": lambda: constant("src/session/sealing.h", "signature_meaning ="),
    "record_document.cpp s.role": lambda: literals(block("src/seal/people.cpp", "char const* role_name(")),
    "record_document.cpp state": lambda: state_names(),
    "record_kit.cpp e.in_hand": MARKED,
    "record_kit.cpp label": MARKED,
    "record_steps.cpp c.label": column_labels,
    "record_steps.cpp english": MARKED,
    "record_steps.cpp f.label": figure_labels,
    "record_steps.cpp f.value": lambda: figure_values(),
    "record_steps.cpp record.verdict": lambda: [t for t in literals(block("src/drawing/marks.cpp",
                                                                          "char const* mark_word(")) if t],
    "screen_words.cpp view.*word": lambda: screen_words(),
    "step_picture.cpp text": picture_words,
    "step_view.cpp column.label": column_labels,
    "step_view.cpp shown.label": figure_labels,
    "step_view.cpp shown.value": lambda: figure_values(),
}


def state_names():
    return [t for file in ("read_back", "set_reader")
            for t in literals(block(f"src/media/{file}.cpp", "char const* state_name("))]


def figure_values():
    return ["yes", "no", "on the plateau", "none needed"]


def said_in(*places):
    """The texts marked said(...) in some files or folders."""
    files = [f for p in places for f in ([root / p] if (root / p).is_file() else sorted((root / p).glob("*.cpp")))]
    return [t for f in files for t in re.findall(r'\bsaid\("((?:[^"\\]|\\.)*)"\)', f.read_text(encoding="utf-8"))]


def gas_kinds():
    return gas_words("gas_movement.cpp", "constexpr std::array kinds")


def sources_of(file, expression):
    """The rows of SOURCES that a piece of code names."""
    for key in SOURCES:
        place, _, name = key.rpartition(" ")
        if place in ("", file.name) and re.search(r"(?<![\w.>])" + re.escape(name) + r"(?![\w.]|->|::)", expression):
            used.add(key)
            yield SOURCES[key]


used = set()


def gas_words(file, opening):
    """Labels begin with a capital and have no other sign than letters, commas and colons; ids do not."""
    return [t for t in literals(block("src/session/" + file, opening)) if t[:1].isupper()]


def screen_words():
    struct = block("src/screens/views.h", "struct WordsView")
    members = dict(re.findall(r'(\w+)\s*=\s*"((?:[^"\\]|\\.)*)"', struct))
    listed = set(re.findall(r"&W::(\w+)", read("src/app/screen_words.cpp")))
    for name in members.keys() ^ listed:
        problems.append(f"screen_words.cpp and screens::WordsView differ in {name}")
    return list(members.values())


def collect():
    """Text to the file it is in."""
    found = {}
    sources = [f for folder in ("app", "language", "report", "session")
               for f in sorted((root / "src" / folder).glob("*.cpp"))]
    sources += [root / "src/model/describe_entry.cpp", root / "src/model/job_rules.cpp"]
    for file in sources:
        code = without_comments(file.read_text(encoding="utf-8"))
        for call in re.finditer(r"(?:(?<!(?<!language)::)\b(words|said)|\(\*this\))\(", code):
            argument = first_argument(code, call.end())
            texts = literals(argument)
            if not call.group(1) and not texts:
                continue
            named = list(sources_of(file, LITERAL.sub("", argument)))
            if call.group(1) == "said" and (named or len(texts) != 1):
                problems.append(f"{file.name}: said({argument}) must hold one literal")
            for source in named:
                if source is MARKED and not re.search(r"\bsaid\(", code):
                    problems.append(f"{file.name}: words({argument.strip()}): nothing is marked said(...) here")
                texts += [] if source in (MARKED, LOWER) else source()
            if not texts and not named:
                problems.append(f"{file.name}: words({argument.strip()}): where do its texts come from? "
                                "Mark them said(...) or name the place in check_ui_words.py")
            for text in texts:
                if text:
                    found.setdefault(text, file.name)
    for key in SOURCES.keys() - used:
        problems.append(f"check_ui_words.py: nothing needs the source {key} any more")
    return found


# Every sentence of these folders is there in every language, but for the files that only the command line reads out.
LAYERS = ("calc", "disk", "electrical", "files", "gas", "journal", "json", "mechanical", "media", "model", "planning",
          "quantity", "report", "seal", "session", "uncertainty")
COMMAND_LINE_ONLY = re.compile(r"files/(checklist_\w+|profile_schema|profile_write)\.cpp|gas/fluid_\w+\.cpp")
# Rules and places kept in the record, not shown in the window.
UNSHOWN = {"unexpected end of input", "simple acceptance: the reading is held against the limit as it stands", "signing key", "canonical form",
           "record job", "record kept", "pinned profile", "pinned checklists", "cylinder of job {}",
           "by name only, nobody signed it", "signed with key", "{}, not known here"}
# Parts of a sentence that stand by themselves in the code.
PIECES = {"coil on", "two coils", "make the folder", "remove the folder", "rename to", "write to", "Opens with:",
          "--- file type:", "Low-gas alarm", "at most", "was changed", "{}: id: is missing"}
# Formulas, the figures put into them, sources, and the language of the store.
FORMULA = re.compile(r" = |slope {}|tau {}|\(from memory|memory\)|^GWP {}|^{} ppmv in|SELECT|INSERT|PRAGMA|CREATE|"
                     r"UPDATE|TRIGGER|DELETE|COMMIT|ROLLBACK|doi:|^lbf |^journal \S+ entry")
# "gas.density", "density from temperature and pressure": what the command line says of a calculation.
SUMMARY = re.compile(r'(\{"[a-z_]+\.[a-z_]+",\s*)("(?:[^"\\]|\\.)*"\s*)+')


def templates_of(path):
    return sentences(wholes(read(path)))


def spoken_anywhere():
    texts = set()
    for file in sorted((root / "src").glob("*/*.cpp")):
        path = file.relative_to(root)
        for text in templates_of(path) | sentences(literals(read(path))):
            texts |= {text, label_of(text), text.replace("_", " ")}
    parts = json.loads((root / "assets/parts/fittings.json").read_text(encoding="utf-8"))
    kit = json.loads((root / "assets/parts/kit.json").read_text(encoding="utf-8"))
    texts |= {p["name"] for p in parts["parts"] + kit["rules"]} | {s["id"].replace("_", " ") for s in parts["seals"]}
    texts |= usual_texts()
    for call in checklists(lambda s: [s["call"]] if "call" in s else []):
        texts |= {p["name"] for key in ("parts", "library") for p in call["inputs"].get(key, [])
                  if isinstance(p, dict)}
    # The end of a part: thread, gender, form (src/mechanical/joint.cpp).
    forms = [t for t in literals(read("src/mechanical/joint.cpp")) if re.fullmatch(r"[a-z]+(37|45)?", t)]
    return texts | {f"{{}} {gender}, {form}" for gender in ("male", "female") for form in forms}


def usual_texts():
    """What an answer says of a value it took where its input was not given."""
    values = json.loads((root / "assets/parts/usual.json").read_text(encoding="utf-8"))["values"]
    return {v[name] for v in values for name in ("means", "source")}


def letters(text):
    return len(re.findall("[a-z]", text))


def check_said(languages, english):
    tables = {l: json.loads((root / f"assets/text/said.{l}.json").read_text(encoding="utf-8"))
              for l in languages}
    anywhere = spoken_anywhere()
    whole = "\n".join(anywhere) + "\n" + "\n".join(
        file.read_text(encoding="utf-8") for folder in ("assets/parts", "checklists", "profiles")
        for file in sorted((root / folder).glob("*.json")))
    wide = [re.compile(pattern(t) + r"(?: \{\})?") for t in anywhere if "{}" in t and letters(t) > 5]
    # The tables have the same keys, which is checked below.
    for text, path in missing(next(iter(tables.values())), english):
        problems.append(f"said.LANG.json lacks, from {path}: {text}")
    for language, table in tables.items():
        for text, other in table.items():
            bare = text.replace("{own}", "{}")
            if bare not in anywhere and not any(re.fullmatch(pattern(bare), t) for t in anywhere) \
                    and not any(form.fullmatch(bare) for form in wide) and not put_together(bare, whole):
                problems.append(f"said.{language}.json has what nothing says: {text}")
            if places(text) != places(other) or numbers(text) != numbers(other):
                problems.append(f"said.{language}.json: other figures or places: {text}")
            if not other.strip():
                problems.append(f"said.{language}.json: empty: {text}")
        for text in table.keys() ^ next(iter(tables.values())).keys():
            problems.append(f"said.{language}.json: not in every language: {text}")
    return next(iter(tables.values()))


def put_together(text, whole):
    """Some sentences are joined from pieces where they arise; then each piece is said somewhere."""
    pieces = re.split(r"\{\}|[;:,.] |[()]", text)
    return all(piece.strip(" .;:,") in whole for piece in pieces)


def pattern(text):
    return ".+".join(re.escape(piece) for piece in text.split("{}"))


CHECK_NAME = re.compile(r'(?:checks\.push_back\(\s*\{|\bCheck(?: \w+)?\{|\bcheck\w*\(answer,)\s*'
                        r'(?:fmt::format\()?"([^"]+)"')


def check_names():
    """What the calculations call their checks; the window shows it as label_of() makes it."""
    for file in sorted((root / "src/calc").glob("*.cpp")):
        for name in CHECK_NAME.findall(read(file.relative_to(root))):
            yield re.sub(r"\{[^{}]*\}", "{}", name).strip(), file.relative_to(root)


def missing(table, english):
    """What the layers say and the table does not have: as a whole, or each sentence for itself."""
    # A text of places and a word, "{} and {}", fits anything; in the window its values must fit too.
    plain = [k.replace("{own}", "{}") for k in [*table, *english] if letters(k) > 7]
    known = [re.compile(pattern(k)) for k in plain]
    bounds = "\n".join(plain)

    def turned(text):
        bare = text.removesuffix(".")
        forms = {form for t in (text, bare) for form in (t, t[:1].lower() + t[1:])}
        if any(f in table or f in english or any(k.fullmatch(f) for k in known) for f in forms):
            return True
        # A word put in from the code, "set {} by {} s": each of its texts is there by itself.
        wide = "|".join(re.escape(f).replace(r"\{\}", "[^\n]+") for f in sorted(forms))
        return "{}" in text and letters(text) > 7 and bool(re.search(f"(?m)^(?:{wide})$", bounds))

    for file in ("kit", "fittings"):
        kit = json.loads((root / f"assets/parts/{file}.json").read_text(encoding="utf-8"))
        for name in {p["name"] for p in kit.get("rules", []) + kit.get("parts", [])}:
            if not turned(name) and not any(re.fullmatch(pattern(k), name) for k in table if letters(k) > 2):
                yield name, f"assets/parts/{file}.json"
    for name, path in check_names():
        if not turned(label_of(name)) and not turned(name):
            yield label_of(name), path
    seen = set()
    for folder in LAYERS:
        for file in sorted((root / "src" / folder).glob("*.cpp")):
            path = file.relative_to(root)
            if COMMAND_LINE_ONLY.search(str(path)):
                continue
            for text in sorted(wholes(SUMMARY.sub(r"\1", read(path)))):
                # Pieces of a sentence, with a blank or a comma at an end, are found in it.
                text = re.sub(r"(?<=\.)(\{\})+$|^\{\} (?=[A-Z][a-z]{2,} |An? )|^\{\}(?=[a-z])", "", text)
                if text in seen or text in UNSHOWN | PIECES or FORMULA.search(text) or not re.search(
                        r"[a-z]{2,}.* .*[a-z]{2,}", text) or re.match(r"[,;.)(]", text):
                    continue
                seen.add(text)
                parts = [p for p in re.split(r"(?<=[.?]) (?=[A-Z{])", text) if p.replace("{}", "").strip()]
                if not turned(text) and not all(turned(p) for p in parts):
                    yield text, path


def places(text):
    return len(re.findall(r"\{(?:own)?\}", text)), text.count("{own}")


def numbers(text):
    return sorted(re.findall(r"\d+(?:[.,]\d+)?", text.replace(",", ".")))


def check_language(file, english):
    def once(pairs):
        seen = dict(pairs)
        if len(seen) != len(pairs):
            problems.append(f"{file.name}: a text is there twice")
        return seen

    table = json.loads(file.read_text(encoding="utf-8"), object_pairs_hook=once)
    for text, where in english.items():
        if text not in table:
            problems.append(f"{file.name} lacks, from {where}: {text}")
    for text, other in table.items():
        if text not in english:
            problems.append(f"{file.name} has one too many: {text}")
        if not other.strip():
            problems.append(f"{file.name}: empty: {text}")
        if text.count("{}") != other.count("{}"):
            problems.append(f"{file.name}: other places for values: {text}")
        if numbers(text) != numbers(other):
            problems.append(f"{file.name}: other figures: {text}")
        # Buttons and labels are laid out for a third more than English.
        if len(other) > max(1.35 * len(text), len(text) + 8):
            problems.append(f"{file.name}: {len(other)} characters for {len(text)}: {text}")


def main():
    english = collect()
    if len(english) < 150:
        problems.append(f"only {len(english)} texts found: the search is broken")
    if "--list" in sys.argv:
        print(json.dumps(sorted(english), ensure_ascii=False, indent=1))
        return 0
    languages = {p.stem for p in (root / "assets/text").glob("??.json")}
    if languages != {p.stem.removeprefix("ui.") for p in (root / "assets/text").glob("ui.??.json")}:
        problems.append("not every language has both a checklist file and a ui file")
    for language in sorted(languages):
        file = root / f"assets/text/ui.{language}.json"
        if file.exists():
            check_language(file, english)
    said = check_said(sorted(languages), english)
    for problem in problems:
        print(problem)
    print(f"{len(english)} texts of the window, {len(said)} of the layers below, {len(languages)} languages, {len(problems)} problems")
    return 1 if problems else 0


sys.exit(main())
