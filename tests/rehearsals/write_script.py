#!/usr/bin/env python3
"""Writes the scripts of the whole outages from their answers and the checklists, so that they never drift apart:
whole_outage.txt (by touch) and whole_outage.job (by command) from demo_answers.json, other_outage.txt and
other_outage.job from other_answers.json, which takes the branches the first one leaves out.

Called with --check it changes nothing and fails when a file is not what would be written.
"""
import json
import pathlib
import sys

here = pathlib.Path(__file__).parent
lists = here.parent.parent / "checklists"
steps = {}
stage_of = {}
for path in sorted(lists.glob("*.json")):
    stage = json.loads(path.read_text())
    for step in stage.get("steps", []):
        steps[step["id"]] = step
        stage_of[step["id"]] = stage["id"]


def named(name):
    return f'"{name}"' if " " in name else name


def type_value(typed, step):
    number, _, unit = typed.partition(" ")
    lines = [f"type {number}"]
    if unit and len(step.get("units", [])) > 1:
        lines.append("tap " + named("unit." + unit))  # the one proposed may be another
    return lines + ["tap key.enter"]


def begin(demo):
    """The demo outage is there at the first start; another one is begun from the list."""
    if demo["profile"] == "kd-41":
        return ["size 1280 800", "theme print", f"expect block.station {demo['facts']['station']}"]
    lines = ["size 1280 800", "theme print", "tap action.menu", "tap row.jobs", "tap action.new", "shot new-which.png",
             f"tap row.{demo['profile']}"]
    for fact in ("station", "bay", "serial", "job_no", "window"):
        lines.append(f"tap field.{fact}")
        if fact == "window":
            lines.append("press clear")  # it holds a proposal
        lines.append("scan " + demo["facts"][fact])
    return lines + ["tap field.crew", "scan " + ", ".join(demo["crew"]), "shot new-outage.png", "tap action.begin",
                    f"expect block.station {demo['facts']['station']}"]


def by_touch(demo, source):
    out = [f"# {demo['title']} by touch. Written by write_script.py from {source}: change that file."]
    out += begin(demo)
    for answer in demo["steps"]:
        step = steps[answer["step"]]
        kind = step["kind"]
        shot = f"shot {step['id'].replace('.', '-')}.png"
        out += ["", f"# {step['id']}", f"await step.title {step['title'][:24]}"]
        if step["id"] == "handback.review":
            break
        if answer.get("defer"):
            out += ["tap action.later", "tap row.put_off", f"type {answer['defer']['reason']}", "tap key.enter",
                    f"type {answer['defer']['owner']}", "tap key.enter", f"tap row.{answer['defer']['before']}"]
            continue
        if answer.get("attach"):
            # Any file does for a photo here: the picture of the first step.
            out += ["tap action.record", "scan @OUT@/prepare-nameplate.png", "tap action.record"]
            continue
        if step["id"] == "settings.write":
            out += ["tap action.stick", "tap row.folder", "scan @OUT@/stick", "await action.write",
                    "shot stick-target.png", "tap action.write", "await action.done", "shot stick.png",
                    "tap action.done", "await step.title " + step["title"][:24]]
        if "shown" in answer:
            # The program asks for one value after the other, as the checklist names them.
            out += ["tap action.compare", "tap action.type"]
            for path in step["compare"]:
                number, _, unit = answer["shown"][path].partition(" ")
                if unit and number.replace(".", "").isdigit():
                    out += [f"type {number}", "tap key.enter"]
                else:
                    out.append("scan " + answer["shown"][path])
            out += ["shot settings-read_back.png", "tap action.record"]
        elif kind == "measure" and "answer" in answer:
            out += ["tap " + named("answer." + answer["answer"]), "tap action.record"]
        elif kind == "measure":
            out.append("tap action.record")
            if step.get("free_text"):
                out += [f"type {answer['typed']}", "tap key.enter"]
            else:
                out += type_value(answer["typed"], step)
            out += [shot, "tap action.record"]
            if answer.get("asked"):
                out += ["tap answer.yes"]
        elif kind in ("confirm", "choose"):
            out += ["tap " + named("answer." + answer["answer"]), shot, "tap action.record"]
        elif kind == "compute":
            out += [shot, "tap action.record"]
            if answer.get("stays"):
                out += [f"expect verdict.title {answer['stays']}", "tap action.next"]
        elif kind == "log":
            before = 0
            for reading in answer["readings"]:
                gap = (reading["minutes"] - before) * 60
                before = reading["minutes"]
                if gap:
                    out.append(f"later {gap}")
                out.append("tap action.reading")
                for column, value in zip(step["columns"], reading["values"]):
                    number, _, unit = value.partition(" ")
                    out += [f"type {number}"]
                    if len(column["units"]) > 1:
                        out.append("tap " + named("unit." + unit))
                    out.append("tap key.enter")
            out += [shot, "tap action.record"]
        # The people in the cabinet take their time too.
        out.append(f"later {int(step.get('minutes', [1, 1, 1])[0] * 45)}")
    job = demo["facts"]["job_no"]
    return out + ["", "# review, signature, seal", "await step.title Review", "tap action.review", "shot review.png",
                  "tap answer.p1", "draw pad.signature", "shot signing.png", "hold action.sign", "type 274185",
                  "tap key.enter", "await action.jobs", "shot sealed.png", "tap action.jobs", f"expect row.{job} sealed",
                  "shot jobs.png"]


def word(text):
    return text if text.replace("-", "").replace(".", "").replace("_", "").isalnum() else "'" + text + "'"


def by_command(demo, source):
    """The same outage for "isochore job script": what a desk or a test enters without a window."""
    job = demo["facts"]["job_no"]
    lines = [f"# {demo['title']} as job commands. Written by write_script.py from {source}: change that file.",
             "create --profile " + demo["profile"] + "".join(f" --crew {word(n)}" for n in demo["crew"])
             + "".join(f" --fact {word(n + '=' + v)}" for n, v in demo["facts"].items())]
    for answer in demo["steps"]:
        step = steps[answer["step"]]
        if step["id"] == "handback.review":
            break
        people = "".join(f" --{role} {word(answer[role])}" for role in ("reader", "doer") if role in answer)
        enter = f"enter {job} {step['id']}"
        if answer.get("defer"):
            d = answer["defer"]
            lines.append(f"defer {job} {step['id']} --reason {word(d['reason'])} --owner {word(d['owner'])} "
                         f"--before {d['before']}")
        elif answer.get("attach"):
            lines.append(f"enter {job} {step['id']} '@FILE@'")
        elif "shown" in answer:
            lines.append(f"stick readback {job} --record"
                         + "".join(f" --value {word(path + '=' + text)}" for path, text in answer["shown"].items())
                         + people)
        elif step["kind"] == "log":
            before = 0
            for reading in answer["readings"]:
                if reading["minutes"] > before:
                    lines.append(f"later {(reading['minutes'] - before) * 60}")
                before = reading["minutes"]
                lines.append(enter + "".join(f" --reading {word(v)}" for v in reading["values"]))
            lines.append(enter)
        else:
            value = answer.get("typed", answer.get("answer", ""))
            lines.append(enter + (f" {word(value)}" if value else "") + people)
        lines.append(f"later {int(step.get('minutes', [1, 1, 1])[0] * 45)}")
    return lines


for source, base in (("demo_answers.json", "whole_outage"), ("other_answers.json", "other_outage")):
    demo = json.loads((here / source).read_text())
    for target, lines in ((here / f"{base}.txt", by_touch(demo, source)), (here / f"{base}.job", by_command(demo, source))):
        text = "\n".join(lines) + "\n"
        if "--check" not in sys.argv:
            target.write_text(text)
        elif not target.exists() or target.read_text() != text:
            sys.exit(f"{target.name} is not what write_script.py writes: run it")
        else:
            print(f"{target.name}: {len(text.splitlines())} lines, as written")
