#!/usr/bin/env python3
"""Every English text of the program itself stands in each assets/text/ui.LANG.json, and nothing else does.

Texts are found as the code hands them over: the literals inside words(...), those marked said(...), the
defaults of screens::WordsView, and, for a variable inside words(...), the place its texts come from, which
must be named in SOURCES below. The pictures' words are found in src/session and in the drawings' headers.

assets/text/said.LANG.json holds what the layers below the window say: every text of the files in SPOKEN, with
{} for each value, and as many of the calculations' texts as have been turned so far (--rest lists the others).
Each of its texts must still be said somewhere. Run: check_ui_words.py REPOSITORY"""
import json
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
problems = []

LITERAL = re.compile(r'"((?:[^"\\]|\\.)*)"')


def without_comments(code):
    return re.sub(r'("(?:[^"\\]|\\.)*")|//[^\n]*|/\*.*?\*/', lambda m: m.group(1) or " ", code, flags=re.S)


def read(path):
    return without_comments((root / path).read_text(encoding="utf-8"))


def literals(code):
    """The string literals of a piece of code; neighbours are one, as for the compiler."""
    code = re.sub(r'"\s+"', "", code)
    return [m.group(1).replace('\\"', '"').replace("\\n", "\n") for m in LITERAL.finditer(code)]


def first_argument(code, start):
    """The first argument of a call whose opening bracket is just before `start`."""
    depth, at = 0, start
    while at < len(code):
        quoted = LITERAL.match(code, at)
        if quoted:
            at = quoted.end()
            continue
        if code[at] in "([{":
            depth += 1
        elif code[at] in ")]}":
            if depth == 0:
                return code[start:at]
            depth -= 1
        elif code[at] == "," and depth == 0:
            return code[start:at]
        at += 1
    raise SystemExit("a call without an end")


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


def picture_words():
    return [t for path, struct in (("src/drawing/wiring.h", "struct WiringDiagram"),
                                   ("src/drawing/pt_diagram.h", "struct PtDiagram"),
                                   ("src/drawing/clearance.h", "struct ClearanceSection"),
                                   ("src/drawing/ct_taps.h", "struct CtTaps"),
                                   ("src/drawing/purge_curve.h", "struct PurgeCurve"),
                                   ("src/drawing/leak_line.h", "struct LeakLine"),
                                   ("src/drawing/resistor_window.h", "struct ResistorRuler"),
                                   ("src/drawing/time_plan.h", "struct TimePlan"),
                                   ("src/drawing/time_limits.h", "struct TimeLimits"),
                                   ("src/drawing/phase_sum.h", "struct PhaseSum"),
                                   ("src/drawing/leak_found.h", "struct LeakFound"),
                                   ("src/drawing/air_left.h", "struct AirLeft"),
                                   ("src/drawing/frost_line.h", "struct FrostLine"),
                                   ("src/drawing/mass_account.h", "struct MassAccount"))
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


# What a variable inside words(...) can hold. None: marked said(...) where it is made.
SOURCES = {
    "fact.label": None,
    "fact.hint": None,
    "text.label": None,
    "text.hint": None,
    "t.label": None,
    "s.word": None,
    "k.word": None,
    "sheet.entry->problem": None,
    "model::status_name": lambda: literals(block("src/model/job_state.cpp", "char const* status_name(")),
    "seal::role_name": lambda: literals(block("src/seal/people.cpp", "char const* role_name(")),
    "media::phase_name": lambda: literals(block("src/media/set_writer.cpp", "char const* phase_name(")),
    "session::signature_meaning": lambda: constant("src/session/sealing.h", "signature_meaning ="),
    "seal::record_footer": lambda: constant("src/seal/record.h", "record_footer ="),
    "mark_word": lambda: [t for t in literals(block("src/drawing/marks.cpp", "char const* mark_word(")) if t],
    "record.verdict": None,  # words of mark_word
    "profile.status": lambda: ["draft", "checked", "released", "withdrawn"],
    "s.role": None,  # of seal::role_name
    "s.meaning": None,
    "f.label": None,  # any figure's; looked up in said.LANG.json too
    "f.value": None,
    "english": None,
    "e.in_hand": None,
    "level_text": None,
    "title": None,
    "label_of": None,
    "state": None,
    "label": None,
    "due": None,
    "kind_name": None,
    "shown.label": figure_labels,
    "shown.value": lambda: ["yes", "no", "on the plateau", "none needed"],
    "c.label": lambda: [c["label"] for c in checklists(lambda s: s.get("columns", []))],
    "column.label": lambda: [c["label"] for c in checklists(lambda s: s.get("columns", []))],
    "k.label": lambda: gas_words("gas_movement.cpp", "constexpr std::array kinds"),
    "kind->label": None,
    "kind->from_label": None,
    "kind->to_label": None,
    "term.label": lambda: gas_words("gas_files.cpp", "static std::vector<TermGroup> const groups"),
    "group.label": None,
    "t.side": lambda: ["not usable"],
    "field.label": field_labels,
    "field.group": field_groups,
    "group": field_groups,
    "m_group": field_groups,
    "facet.label": facet_labels,
    "derived.label": derived_labels,
    "difference.label": lambda: derived_labels() + field_labels(),
    "media::state_name": lambda: literals(block("src/media/read_back.cpp", "char const* state_name("))
    + literals(block("src/media/set_reader.cpp", "char const* state_name(")),
    "view.*word": lambda: screen_words(),
    "*text": picture_words,
    # These are looked up in said.LANG.json.
    "text": None,
    "name": None,
    "seal": None,
    "part.label": None,
    "d.liquid": None,
    "end": None,
    "field_text(field).label": None,
}


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
            bare = LITERAL.sub("", argument)
            named = [s for s in SOURCES if re.search(r"(?<![\w.>])" + re.escape(s) + r"(?!\w)", bare)]
            if call.group(1) == "said" and (named or len(texts) != 1):
                problems.append(f"{file.name}: said({argument}) must hold one literal")
            for source in named:
                texts += (SOURCES[source] or list)()
            if not texts and not named:
                problems.append(f"{file.name}: words({argument.strip()}): where do its texts come from? "
                                "Mark them said(...) or name the place in check_ui_words.py")
            for text in texts:
                if text:
                    found.setdefault(text, file.name)
    return found


# What these say is complete in every language.
SPOKEN = ("src/session/evaluate.cpp", "src/session/slip.cpp", "src/session/calibration.cpp",
          "src/session/own_parts.cpp", "src/session/gas_ledger.cpp", "src/session/gas_balance.cpp",
          "src/session/profile_release.cpp", "src/quantity/amount.cpp", "src/calc/series.cpp",
          "src/calc/purge_plateau.cpp", "src/calc/leak_decay.cpp", "src/calc/fill_checks.cpp",
          "src/calc/leak_accumulation.cpp", "src/calc/leak_weather.cpp", "src/calc/emissions_calcs.cpp",
          "src/files/profile_check.cpp", "src/media/stick_finder.cpp", "src/media/stick_folder.cpp",
          "src/media/stick_release.cpp", "src/media/set_reader.cpp", "src/media/manifest.cpp",
          "src/media/unit_layer.cpp")
# Rules and places kept in the record, not shown in the window.
UNSHOWN = {"simple acceptance: the reading is held against the limit as it stands", "{} ({})", "{} {} = {}",
           "by name only, nobody signed it", "signed with key", ", not known here"}
# Formulas, the figures put into them, and what they are from stand in the working as they are.
FORMULA = re.compile(r" = |slope {}|tau {}|\(from memory|memory\)|^GWP {}|^{} ppmv in|^cylinder of job$|"
                     r"^user emissions|^a year's|^every kilogram")


def templates(path):
    """The sentences of a file, each value a {}."""
    found = []
    code = re.sub(r"(?m)^\s*#include.*$", "", read(path))
    for text in literals(code):
        text = re.sub(r"\{[^{}]*(?:\{\}[^{}]*)*\}", "{}", text).strip()
        found += re.split(r"(?<=[.?]) (?=[A-Z])", text) + [text]
    return found


def spoken_anywhere():
    texts = set()
    for file in sorted((root / "src").glob("*/*.cpp")):
        for text in templates(file.relative_to(root)):
            texts |= {text, label_of(text), text.replace("_", " ")}
    parts = json.loads((root / "assets/parts/fittings.json").read_text(encoding="utf-8"))
    texts |= {p["name"] for p in parts["parts"]} | {s["id"].replace("_", " ") for s in parts["seals"]}
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


def check_said(languages):
    tables = {l: json.loads((root / f"assets/text/said.{l}.json").read_text(encoding="utf-8"))
              for l in languages}
    anywhere = spoken_anywhere()
    whole = "\n".join(anywhere) + "\n" + "\n".join(
        file.read_text(encoding="utf-8") for folder in ("assets/parts", "checklists", "profiles")
        for file in sorted((root / folder).glob("*.json")))
    wanted = {t for path in SPOKEN for part in templates(path)
              for t in re.split(r"(?<=[.?]) (?=[A-Z])", part) if re.search(r"[a-z]{3,}.* |^[A-Z][a-z]+ ", t)}
    wanted = {t for t in wanted - UNSHOWN if not FORMULA.search(t)}
    for language, table in tables.items():
        for text in wanted - table.keys():
            # A text of places and a word, "{} and {}", fits anything; in the window its values must fit too.
            if not any(len(re.findall("[a-z]", key)) > 7 and re.fullmatch(pattern(key), text) for key in table):
                problems.append(f"said.{language}.json lacks: {text}")
        for text, other in table.items():
            if text not in anywhere and not any(re.fullmatch(pattern(text), t) for t in anywhere) \
                    and not put_together(text, whole):
                problems.append(f"said.{language}.json has what nothing says: {text}")
            if text.count("{}") != other.count("{}") or numbers(text) != numbers(other):
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


def rest(table):
    """What the calculations say and nobody has turned yet."""
    left = set()
    for folder in ("calc", "planning", "mechanical", "gas", "electrical"):
        for file in sorted((root / "src" / folder).glob("*.cpp")):
            left |= {t for t in templates(file.relative_to(root)) if re.search(r"[a-z]{3,} .*[a-z]{3,}", t)}
    return sorted(t for t in left if not any(re.fullmatch(pattern(key), t) for key in table))


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
    said = check_said(sorted(languages))
    if "--rest" in sys.argv:
        print("\n".join(rest(said)))
    for problem in problems:
        print(problem)
    print(f"{len(english)} texts of the window, {len(said)} of the layers below, {len(languages)} languages, {len(problems)} problems")
    return 1 if problems else 0


sys.exit(main())
