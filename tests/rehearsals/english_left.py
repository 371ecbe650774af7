"""Finds English among what a sheet or a paper in another language says."""
import csv
import json
import pathlib
import re
import sys

root = pathlib.Path(__file__).parent.parent.parent

# Words that only English has, of the languages the program speaks.
WORDS = re.compile(r"\b(the|and|with|from|is|of|not|for|when|than|which|between|above|below|needs|by|are|be|been|this|"
                   r"that|it|its|must|every|only|what|who|why|how|yet|into|where|there|you|your|can|may)\b",
                   re.IGNORECASE)
# Typed by somebody, offered to be typed (a unit's settings know their choices in English only), or said of a picture
# to who does not see it: not words of the sheet. The keypad's unit stands as it is stored.
NOT_SHOWN = re.compile(r"entry\.typed|entry\.unit|suggestion\.|panel\.picture")


def own_texts():
    """What people wrote: profiles with their sources, and what is typed in the rehearsals."""
    texts = {"Desk of K. Olm", "Desk of K.", "of K. Olm", "from memory", "clause from", "ordinate", "common practice"}

    def walk(value):
        if isinstance(value, dict):
            for v in value.values():
                walk(v)
        elif isinstance(value, list):
            for v in value:
                walk(v)
        elif isinstance(value, str) and " " in value:
            texts.add(" ".join(value.split()))

    for file in (root / "profiles").glob("*.json"):
        walk(json.loads(file.read_text(encoding="utf-8")))
    for file in (root / "tests/rehearsals/tables").glob("*.csv"):
        with file.open(encoding="utf-8", newline="") as table:
            texts |= {cell for row in csv.reader(table) for cell in row if " " in cell}
    for file in [root / "tests/rehearsals/whole_outage.txt", *(root / "tests/rehearsals/short").glob("*.txt")]:
        for line in file.read_text(encoding="utf-8").splitlines():
            if typed := re.match(r"(?:type|scan) (.+ .+)", line):
                texts.add(typed.group(1))
    return sorted(texts, key=len, reverse=True)


def catalogue(language):
    """The English texts that are said otherwise in this language."""
    sys.path.insert(0, str(root / "tests/files"))
    from check_translations import texts_of_checklists
    english = texts_of_checklists(root / "checklists")
    keyed = json.loads((root / f"assets/text/{language}.json").read_text(encoding="utf-8"))
    pairs = {english[key]: text for key, text in keyed.items()}
    for front in ("ui", "said"):
        pairs |= json.loads((root / f"assets/text/{front}.{language}.json").read_text(encoding="utf-8"))
    other = set(pairs.values())
    return {text for text, said in pairs.items() if said != text and text not in other}


def english_left(texts, language):
    """`texts` are (text, where); yields those that are English."""
    known, own = catalogue(language), own_texts()
    for text, where in texts:
        plain = " ".join(text.split())
        if NOT_SHOWN.search(where):
            continue
        if (plain in known or plain.rstrip(".") in known) and not any(plain in o for o in own):
            yield f"{where}: a text of the catalogue in English: {plain}"
        elif WORDS.search(plain) and not any(plain in o for o in own):
            # A line may hold a piece only of what somebody wrote: the words on both sides tell.
            for found in WORDS.finditer(plain):
                before, after = plain[:found.start()].split(), plain[found.end():].split()
                around = " ".join([*before[-1:], found.group(), *(w.rstrip(".,;:") for w in after[:1])])
                if not any(around in o for o in own):
                    yield f"{where}: “{found.group()}” is English: {plain}"
                    break


def said_on_sheets(file):
    """(text, where) of a file that a rehearsal wrote."""
    for line in file.read_text(encoding="utf-8").splitlines():
        where, _, text = line.partition("\t")
        yield text, where
