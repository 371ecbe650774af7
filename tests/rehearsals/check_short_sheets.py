#!/usr/bin/env python3
"""Walks the short rehearsals in another language and fails on English left on their sheets, on texts that do not
fit and on rehearsals that no longer go through.

    tests/rehearsals/check_short_sheets.py PROGRAM OUT LANGUAGE [NAME...]
"""
import pathlib
import shutil
import subprocess
import sys

from english_left import english_left, said_on_sheets

program, out, language, names = sys.argv[1], pathlib.Path(sys.argv[2]), sys.argv[3], sys.argv[4:]
here = pathlib.Path(__file__).parent
# They search by words of one language, or are about one.
ONE_LANGUAGE = {"german", "german_library", "spanish_upright", "correction_reopens"}

failed = 0
for script in sorted((here / "short").glob("*.txt")):
    if (names and script.stem not in names) or script.stem in ONE_LANGUAGE:
        continue
    folder = out / f"{language}-{script.stem}"
    shutil.rmtree(folder, ignore_errors=True)
    run = subprocess.run([sys.executable, str(here / "run_short.py"), program, str(script), str(folder), language],
                         capture_output=True, text=True)
    faults = [run.stderr.strip()] if run.returncode else []
    for file in sorted(folder.glob("texts*.txt")):
        faults += english_left(said_on_sheets(file), language)
    print(f"{script.stem}: {len(faults)} faults")
    for line in dict.fromkeys(faults):
        print("   ", line)
    failed += bool(faults)
sys.exit(1 if failed else 0)
