#!/usr/bin/env python3
"""Walks the demo outage and the short rehearsals in every theme, lying and upright, and lays all pictures side
by side in OUT/index.html for people to look through.

    tests/rehearsals/all_pictures.py build/isochore OUT [--theme NAME] [--upright | --lying]
"""
import argparse
import html
import pathlib
import re
import shutil
import subprocess
import sys

here = pathlib.Path(__file__).parent
parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
parser.add_argument("program")
parser.add_argument("out", type=pathlib.Path)
parser.add_argument("--theme", choices=["print", "blueprint", "plain"])
parser.add_argument("--upright", action="store_true")
parser.add_argument("--lying", action="store_true")
o = parser.parse_args()
themes = [o.theme] if o.theme else ["print", "blueprint", "plain"]
shapes = [s for s, left_out in (("lying", o.upright), ("upright", o.lying)) if not left_out]
sizes = {"lying": (1280, 800), "upright": (800, 1280)}


def dressed(script, theme, size):
    """The script with theme and size of its own choice replaced."""
    kept = [line for line in script.read_text().splitlines() if not re.match(r"(theme|size|dpi)\b|# size ", line)]
    first = [kept.pop(0)] if kept and kept[0].startswith("# after ") else []
    return "\n".join(first + [f"size {size[0]} {size[1]}", f"theme {theme}"] + kept) + "\n"


shutil.rmtree(o.out, ignore_errors=True)
o.out.mkdir(parents=True)
failed, taken = [], {}
for shape in shapes:
    for theme in themes:
        for script in [here / "whole_outage.txt"] + sorted((here / "short").glob("*.txt")):
            folder = o.out / f"{theme}-{shape}" / script.stem
            folder.mkdir(parents=True)
            played = o.out / "script.txt"
            played.write_text(dressed(script, theme, sizes[shape]))
            run = subprocess.run([sys.executable, str(here / "run_short.py"), o.program, str(played), str(folder)],
                                 capture_output=True, text=True)
            shutil.rmtree(folder / "store", ignore_errors=True)
            if run.returncode:
                failed.append(f"{theme}, {shape}, {script.name}: {run.stderr.strip()}")
            for shot in sorted(folder.glob("*.png")):
                taken.setdefault(f"{script.stem}/{shot.name}", []).append(shot.relative_to(o.out))
(o.out / "script.txt").unlink()
page = ["<!doctype html><meta charset=utf-8><title>Isochore, every sheet</title>",
        "<style>body{font:16px sans-serif;margin:2em}div{display:flex;gap:1em;flex-wrap:wrap}",
        "img{height:420px;border:1px solid #888}</style>"]
for name, shots in taken.items():
    page.append(f"<h2>{html.escape(name)}</h2><div>")
    page += [f'<a href="{s}"><img src="{s}" title="{html.escape(str(s))}" loading=lazy></a>' for s in shots]
    page.append("</div>")
(o.out / "index.html").write_text("\n".join(page) + "\n")
print(f"{sum(map(len, taken.values()))} pictures of {len(taken)} sheets: {o.out / 'index.html'}")
for line in failed:
    print("FAILED:", line)
sys.exit(1 if failed else 0)
