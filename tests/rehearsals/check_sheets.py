#!/usr/bin/env python3
"""Walks a whole outage in one language, size and density after another: the demo outage, or with "/other" the
other one. The program holds every sheet it
comes by against the rules for gloves and eyes (src/screens/sheet_rules.h) and fails on a text that is cut,
lies on another or leaves the sheet, and on a target that is small or near its neighbour.

    tests/rehearsals/check_sheets.py PROGRAM OUT LANGUAGE:WIDTHxHEIGHT@DPI[/other]...
"""
import json
import pathlib
import re
import shutil
import subprocess
import sys

from english_left import english_left, said_on_sheets

program, out, wanted = sys.argv[1], pathlib.Path(sys.argv[2]), sys.argv[3:]
here = pathlib.Path(__file__).parent

def in_its_language(folder, language):
    """Whether window and record speak no English but what is somebody's own."""
    if language == "en":
        return True
    left = []
    for pdf in (folder / "store/records").rglob("*.pdf") if shutil.which("pdftotext") else []:
        text = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True).stdout
        # What stands side by side in a line of a table are texts of their own.
        cells = [cell for line in text.splitlines() for cell in re.split(r"\s{2,}", line.strip()) if cell]
        left += english_left([(cell, pdf.name) for cell in cells], language)
    left += english_left(said_on_sheets(folder / "texts.txt"), language)
    for line in left[:40]:
        print(f"English: {line}")
    return not left


failed = False
for one in wanted:
    language, width, height, dpi, other = re.fullmatch(r"(\w+):(\d+)x(\d+)@([\d.]+)(/other)?", one).groups()
    folder = out / re.sub(r"[:@/]", "-", one)
    shutil.rmtree(folder, ignore_errors=True)
    (folder / "store").mkdir(parents=True)
    (folder / "store/settings.json").write_text(json.dumps({"language": language}))
    lines = [f"size {width} {height}", f"dpi {dpi}", "texts texts.txt"]
    for line in (here / ("other_outage.txt" if other else "whole_outage.txt")).read_text().splitlines():
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
    if run.returncode == 0:
        failed = not in_its_language(folder, language) or failed
sys.exit(failed)
