"""Finds the texts in C++ code: literals, and the sentences put together from them, each value a {}."""
import re

LITERAL = re.compile(r'"((?:[^"\\]|\\.)*)"')
OPEN, SHUT = "([{", ")]}"


def without_comments(code):
    return re.sub(r'("(?:[^"\\]|\\.)*")|\'(?:[^\'\\]|\\.)\'|//[^\n]*|/\*.*?\*/', lambda m: m.group(1) or " ", code,
                  flags=re.S)


def as_read(literal):
    return literal.replace('\\"', '"').replace("\\n", "\n").replace("\\\\", "\\")


def joined(code):
    """Neighbouring literals are one, as for the compiler."""
    return re.sub(r'"\s+"', "", code)


def literals(code):
    return [as_read(m.group(1)) for m in LITERAL.finditer(joined(code))]


def first_argument(code, start):
    """The first argument of a call whose opening bracket is just before `start`."""
    depth, at = 0, start
    while at < len(code):
        quoted = LITERAL.match(code, at)
        if quoted:
            at = quoted.end()
            continue
        if code[at] in OPEN:
            depth += 1
        elif code[at] in SHUT:
            if depth == 0:
                return code[start:at]
            depth -= 1
        elif code[at] == "," and depth == 0:
            return code[start:at]
        at += 1
    raise SystemExit("a call without an end")


def expressions(code):
    """Every expression between brackets, commas and semicolons, also those inside of others."""
    stack, begins, at = [], [0], 0
    while at < len(code):
        quoted = LITERAL.match(code, at)
        if quoted:
            at = quoted.end()
            continue
        c = code[at]
        if c in OPEN:
            begins.append(at + 1)
        elif c in SHUT or c in ",;":
            if not code.endswith("std::string(", 0, begins[-1]):  # a part of a longer sum
                yield code[begins[-1]:at]
            if c in SHUT and len(begins) > 1:
                begins.pop()
                if c == "}":
                    begins[-1] = at + 1
            else:
                begins[-1] = at + 1
        at += 1


def operands(expression):
    """The parts of a sum; each branch of a condition is a sum for itself."""
    sums, begin, depth, at = [[]], 0, 0, 0

    def end(stop):
        sums[-1].append(expression[begin:stop].strip())

    while at < len(expression):
        quoted = LITERAL.match(expression, at)
        if quoted:
            at = quoted.end()
            continue
        c, two = expression[at], expression[at:at + 2]
        if c in OPEN:
            depth += 1
        elif c in SHUT:
            depth -= 1
        elif depth == 0 and two in ("::", "==", "!=", "<=", ">=", "->", "&&", "||", "++"):
            at += 2
            continue
        elif depth == 0 and c in "+?:=":
            end(at)
            if c != "+" or two == "+=":
                sums.append([])
            begin = at + (2 if two == "+=" else 1)
            at = begin
            continue
        at += 1
    end(len(expression))
    return sums


def wholes(code):
    """The texts of a file as they are put together, each of their places a {}."""
    code = joined(re.sub(r"(?m)^\s*#.*$", "", code))
    found = set()
    for expression in expressions(code):
        if '"' not in expression:
            continue
        for parts in operands(re.sub(r"^.*\breturn\b", "", expression, flags=re.S)):
            bare = [re.fullmatch(r'(?:std::string(?:_view)?\()?"((?:[^"\\]|\\.)*)"\)?', p) for p in parts]
            if any(bare):
                found.add("".join(as_read(b.group(1)) if b else "{}" for b in bare))
    return plain_places(found)


def plain_places(texts):
    return {re.sub(r"\{[^{}]*(?:\{\}[^{}]*)*\}", "{}", t).strip() for t in texts}


def sentences(texts):
    """Each text whole and sentence by sentence."""
    found = plain_places(texts)
    return found | {s for t in found for s in re.split(r"(?<=[.?]) (?=[A-Z])", t)}
