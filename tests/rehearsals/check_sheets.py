#!/usr/bin/env python3
"""Walks the whole demo outage in one language, size and density after another. The program holds every sheet it
comes by against the rules for gloves and eyes (src/screens/sheet_rules.h) and fails on a text that is cut,
lies on another or leaves the sheet, and on a target that is small or near its neighbour.

    tests/rehearsals/check_sheets.py PROGRAM OUT LANGUAGE:WIDTHxHEIGHT@DPI...
"""
import json
import pathlib
import re
import shutil
import subprocess
import sys

program, out, wanted = sys.argv[1], pathlib.Path(sys.argv[2]), sys.argv[3:]
here = pathlib.Path(__file__).parent

# Words that only English has; what people typed and the names of standards stay as they are.
ENGLISH = re.compile(r"\b(the|and|with|from|needs|when|than|which|between|above|below|is)\b")
OWN = re.compile(r"Moisture settles|from memory|clause from|ordinate")


def in_its_language(folder, language):
    """Whether the record's sheets speak no English but what is somebody's own."""
    if language == "en" or not shutil.which("pdftotext"):
        return True
    left = []
    for pdf in (folder / "store/records").rglob("*.pdf"):
        text = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True).stdout
        left += [line.strip() for line in text.splitlines() if ENGLISH.search(line) and not OWN.search(line)]
    for line in left[:20]:
        print(f"English in the record: {line}")
    return not left


failed = False
for one in wanted:
    language, width, height, dpi = re.fullmatch(r"(\w+):(\d+)x(\d+)@([\d.]+)", one).groups()
    folder = out / re.sub(r"[:@]", "-", one)
    shutil.rmtree(folder, ignore_errors=True)
    (folder / "store").mkdir(parents=True)
    (folder / "store/settings.json").write_text(json.dumps({"language": language}))
    lines = [f"size {width} {height}", f"dpi {dpi}"]
    for line in (here / "whole_outage.txt").read_text().splitlines():
        # Pictures are taken elsewhere but for the one attached later, and what is expected is said in English.
        line = re.sub(r"^await (\S+).*", r"await \1", line)
        if "prepare-nameplate.png" in line or not re.match(r"(size|dpi|shot|expect|log)\b", line):
            lines.append(line)
    script = folder / "script.txt"
    script.write_text("\n".join(lines) + "\n")
    run = subprocess.run([program, "rehearse", str(script), "--offscreen", "--out", str(folder)],
                         capture_output=True, text=True, timeout=560)
    print(f"{one}: {(run.stdout + run.stderr).strip()}")
    failed = failed or run.returncode != 0
    failed = not in_its_language(folder, language) or failed
sys.exit(failed)
