"""Finds English among what a sheet or a paper in another language says."""
import json
import pathlib
import re
import sys

root = pathlib.Path(__file__).parent.parent.parent

# Words that only English has, of the languages the program speaks.
WORDS = re.compile(r"\b(the|and|with|from|is|of|not|for|when|than|which|between|above|below|needs|by|are|be|been|this|"
                   r"that|it|its|must|every|only|what|who|why|how|yet|into|where|there|you|your|can|may)\b", re.IGNORECASE)
# What people wrote, or what a profile and its sources are called, stays as it is.
OWN = re.compile(r"Moisture settles|\(?from memory\)?|clause from|ordinate|common practice")


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
    known = catalogue(language)
    for text, where in texts:
        plain = " ".join(text.split())
        if plain in known or plain.rstrip(".") in known:
            yield f"{where}: a text of the catalogue in English: {plain}"
        elif found := WORDS.search(OWN.sub("", plain)):
            yield f"{where}: “{found.group()}” is English: {plain}"


def said_on_sheets(file):
    """(text, where) of a file that a rehearsal wrote."""
    for line in file.read_text(encoding="utf-8").splitlines():
        where, _, text = line.partition("\t")
        yield text, where
