#pragma once
#include "calc/registry.h"
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

namespace isochore::calc {

/// Inputs as JSON text, run through the registry like every caller does.
inline Result<Answer> run_text(char const* name, std::string const& inputs)
{
    return run(name, Json::parse(inputs));
}

/// The answer of inputs that must be accepted.
inline Answer answered(char const* name, std::string const& inputs)
{
    auto answer = run_text(name, inputs);
    if (!answer)
        FAIL(name << " refused: " << answer.error().where << ": " << answer.error().detail);
    return *answer;
}

/// The error of inputs that must be refused.
inline Error refused(char const* name, std::string const& inputs)
{
    auto const answer = run_text(name, inputs);
    if (answer)
        FAIL(name << " accepted " << inputs);
    return answer.error();
}

inline double value_of(Answer const& answer, char const* name)
{
    Figure const* f = answer.find(name);
    if (!f)
        FAIL("no result " << name);
    return f->value;
}

inline Verdict check_verdict(Answer const& answer, std::string const& name)
{
    for (auto const& c : answer.checks)
        if (c.name == name)
            return c.verdict;
    return Verdict::none;
}

inline bool has_note(Answer const& answer, std::string const& part)
{
    for (auto const& n : answer.notes)
        if (n.find(part) != std::string::npos)
            return true;
    return false;
}

} // namespace isochore::calc
