"""Holds the translated checklist texts against the checklists.

Every text a crew reads on the way through an outage has its key in each language, no key is left over, what
must fit a label fits, and the figures in a sentence (20 °C, G 3/8, 52b) are the same in every language.
Usage: check_translations.py SOURCE_DIR
"""
import json
import pathlib
import re
import sys

LANGUAGES = ("de", "es")
LONGEST = {"stage.brief": 12, "stage.about": 120, "step.title": 45, "step.text": 150, "step.why": 170, "step.wrong": 160,
           "answer": 60, "then": 130}


def texts_of_checklists(folder):
    """All English texts by the key of their translation."""
    texts = {}
    for path in sorted(folder.glob("*.json")):
        document = json.loads(path.read_text(encoding="utf-8"))
        for caution in document.get("cautions", []):
            texts[f"caution.{caution['id']}.title"] = caution["title"]
            texts[f"caution.{caution['id']}.text"] = caution["text"]
        if "steps" not in document:
            continue
        texts[f"stage.{document['id']}.title"] = document["title"]
        texts[f"stage.{document['id']}.brief"] = document["brief"]
        if document.get("about"):
            texts[f"stage.{document['id']}.about"] = document["about"]
        for step in document["steps"]:
            texts[f"step.{step['id']}.title"] = step["title"]
            texts[f"step.{step['id']}.text"] = step["text"]
            for part in ("why", "wrong"):
                if step.get(part):
                    texts[f"step.{step['id']}.{part}"] = step[part]
            for source in (step.get("source"), step.get("limit", {}).get("source")):
                if source:
                    texts[f"source.{source}"] = source
            for answer in step.get("answers", []):
                texts[f"answer.{step['id']}.{answer['id']}"] = answer["label"]
                if answer.get("then"):
                    texts[f"then.{step['id']}.{answer['id']}"] = answer["then"]
    return texts


def longest(key):
    for kind, limit in LONGEST.items():
        first, _, last = kind.partition(".")
        if key.startswith(first + ".") and key.endswith("." + last if last else ""):
            return limit
    return None


def figures(text):
    return sorted(re.findall(r"\d+(?:[./]\d+)?", text))


def has_called_word(text):
    """A word in capitals: what is called out and repeated. Short forms of the trade do not count."""
    words = re.findall(r"[^\W\d_]{2,}", text)
    return any(word.isupper() and word not in ("NPT", "UN", "PIN", "CT", "TI") for word in words)


def faults(texts, translated, language):
    for key in texts.keys() - translated.keys():
        yield f"{language}: {key} is missing"
    for key in translated.keys() - texts.keys():
        yield f"{language}: {key} belongs to nothing"
    for key in texts.keys() & translated.keys():
        english, other = texts[key], translated[key]
        limit = longest(key)
        if not isinstance(other, str) or not other.strip():
            yield f"{language}: {key} is empty"
        elif limit and len(other) > limit:
            yield f"{language}: {key} has {len(other)} characters, more than {limit}"
        elif figures(english) != figures(other):
            yield f"{language}: {key} has other figures than the English text: {english!r} / {other!r}"
        elif key.startswith("answer.") and has_called_word(english) and not has_called_word(other):
            yield f"{language}: {key} lacks the word in capitals: {other!r}"


def keys_in_order(path):
    pairs = json.loads(path.read_text(encoding="utf-8"), object_pairs_hook=list)
    return [key for key, _ in pairs]


def main():
    source = pathlib.Path(sys.argv[1])
    texts = texts_of_checklists(source / "checklists")
    found = []
    if len(texts) < 200:
        found.append(f"only {len(texts)} texts found in the checklists: is the folder right?")
    for language in LANGUAGES:
        path = source / "assets" / "text" / f"{language}.json"
        keys = keys_in_order(path)
        found += [f"{language}: {key} is there twice" for key in sorted({k for k in keys if keys.count(k) > 1})]
        found += sorted(faults(texts, json.loads(path.read_text(encoding="utf-8")), language))
    for line in found:
        print(line)
    print(f"{len(texts)} texts in {len(LANGUAGES)} languages, {len(found)} faults")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
