#!/usr/bin/env python3
"""One word for one thing in each language: no text uses a word that terms.json bans, as the table of terms in
DEVELOPERS.md has it. Run: check_terms.py REPOSITORY"""
import json
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
here = pathlib.Path(__file__).parent


def texts(language):
    for front in ("", "ui.", "said."):
        file = root / f"assets/text/{front}{language}.json"
        for key, text in json.loads(file.read_text(encoding="utf-8")).items():
            yield file.name, key, text


def faults(language, terms, rows):
    for name, key, text in rows:
        for term in terms:
            if found := re.search(term["never"], text):
                yield f"{name}: “{found.group()}” for {term['for']}, say {term['say']}: {key[:60]}: {text}"


def main():
    table = json.loads((here / "terms.json").read_text(encoding="utf-8"))
    found = []
    for language, terms in table.items():
        rows = list(texts(language))
        if len(rows) < 1000:
            found.append(f"{language}: only {len(rows)} texts found: the search is broken")
        for term in terms:
            if re.search(term["never"], term["say"]):
                found.append(f"{language}: {term['say']} is banned by its own row")
        found += faults(language, terms, rows)
    for line in found:
        print(line)
    print(f"{sum(map(len, table.values()))} terms in {len(table)} languages, {len(found)} faults")
    return 1 if found else 0


sys.exit(main())
