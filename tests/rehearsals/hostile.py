"""Sticks that mean harm, made from a good one: each in a folder of its own, named by what is wrong with it."""
import json
import shutil


def manifest_of(folder):
    return folder / "ISOCHORE/S0000001/MANIFEST.JSN"


def changed(find, put):
    def change(folder):
        text = manifest_of(folder).read_text()
        if find not in text:
            raise SystemExit(f"no {find} in the manifest")
        manifest_of(folder).write_text(text.replace(find, put, 1))
    return change


def wrong_hash(folder):
    """One letter of a profile, as a person would turn a limit."""
    profile = folder / "ISOCHORE/S0000001/P0000001.JSN"
    text = profile.read_text()
    profile.write_text(text.replace("0.616", "0.516", 1))


def linked(folder):
    profile = folder / "ISOCHORE/S0000001/P0000001.JSN"
    profile.rename(folder / "elsewhere")
    profile.symlink_to(folder / "elsewhere")


def huge(folder):
    with open(folder / "ISOCHORE/S0000001/P0000001.JSN", "r+b") as file:
        file.truncate(1 << 33)  # sparse


def deep(folder):
    text = manifest_of(folder).read_text()
    manifest_of(folder).write_text(text.replace('"files":[', '"files":[' + "[" * 5000 + "]" * 5000 + ",", 1))


def without_signature(folder):
    manifest = json.loads(manifest_of(folder).read_text())
    del manifest["signature"]
    manifest_of(folder).write_text(json.dumps(manifest))


STICKS = {
    "outside": changed('"name":"P0000001.JSN"', '"name":"../../P0000001"'),
    "linked": linked,
    "huge": huge,
    "deep": deep,
    "twice": changed('"files":', '"set":"S0000001","files":'),
    "altered": wrong_hash,
    "forged": changed('"made_at":"20', '"made_at":"21'),
    "unsigned": without_signature,
    "later": changed("isochore.stick/1", "isochore.stick/2"),
    "unknown": changed('"files":', '"colour":1,"files":'),
}


def make(good, into):
    for name, harm in STICKS.items():
        shutil.copytree(good, into / name)
        harm(into / name)
