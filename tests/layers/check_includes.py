#!/usr/bin/env python3
"""Fails on an include that src/layers.cmake does not allow, or on ImGui and SDL outside their folders."""
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
src = root / "src"
allowed = {}
text = (src / "layers.cmake").read_text()
for name, below in re.findall(r'set\(LAYER_(\w+)\s+([^)]*)\)', text):
    allowed[name] = set(below.replace('"', "").split())

faults = []
folders = sorted(p.name for p in src.iterdir() if p.is_dir())
faults += [f"src/{f}: folder is not in src/layers.cmake" for f in folders if f not in allowed]
# Every name in a layer's list must itself be listed earlier: order is the direction.
seen = []
for name, below in allowed.items():
    faults += [f"layers.cmake: {name} uses {b}, which is not below it" for b in below if b not in seen]
    seen.append(name)

outside = {
    "imgui": {"screens", "window"},
    "SDL": {"window"},
    "png": {"window"},
    "sqlite3": {"journal"},
    "libusb": {"media"},
    "cairo": {"report"},
    "pango": {"report"},
    "qrencode": {"report"},
    "sodium": {"json", "seal"},
}
count = 0
for path in sorted(src.rglob("*")):
    if path.suffix not in {".h", ".cpp"}:
        continue
    count += 1
    layer = path.relative_to(src).parts[0]
    for number, line in enumerate(path.read_text().splitlines(), 1):
        where = f"{path.relative_to(root)}:{number}"
        inner = re.match(r'\s*#\s*include\s+"([^"]+)"', line)
        if inner:
            target = inner.group(1).split("/")[0]
            if "/" not in inner.group(1) or target not in allowed:
                faults.append(f'{where}: write includes as "folder/file.h", not "{inner.group(1)}"')
            elif target != layer and target not in allowed[layer]:
                faults.append(f"{where}: {layer} may not include {target}")
        outer = re.match(r'\s*#\s*include\s+<([^>]+)>', line)
        if outer:
            for key, layers in outside.items():
                if outer.group(1).startswith(key) and layer not in layers:
                    faults.append(f"{where}: <{outer.group(1)}> belongs in {sorted(layers)} only")
print(f"{count} files, {len(allowed)} layers, {len(faults)} faults")
print("\n".join(faults))
sys.exit(1 if faults or count == 0 else 0)
