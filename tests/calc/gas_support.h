#pragma once
#include "calc/registry.h"
#include "json/read.h"
#include <catch2/catch.hpp>
#include <string>

/// Runs a calculation on inputs written as JSON text.
inline isochore::Result<isochore::calc::Answer> run_text(std::string_view name, std::string const& inputs)
{
    auto const parsed = isochore::read_json(inputs, "inputs");
    INFO(inputs);
    REQUIRE(parsed);
    return isochore::calc::run(name, *parsed);
}

inline isochore::calc::Answer answered(std::string_view name, std::string const& inputs)
{
    auto answer = run_text(name, inputs);
    INFO(inputs);
    if (!answer)
        FAIL(answer.error().where << ": " << answer.error().detail);
    return *answer;
}

inline isochore::Error refused(std::string_view name, std::string const& inputs)
{
    auto const answer = run_text(name, inputs);
    INFO(inputs);
    REQUIRE_FALSE(answer);
    CHECK_FALSE(answer.error().detail.empty());
    return answer.error();
}

inline isochore::calc::Figure figure_of(isochore::calc::Answer const& answer, std::string_view name)
{
    auto const* found = answer.find(name);
    INFO("result " << name);
    REQUIRE(found);
    return *found;
}

inline double value_of(isochore::calc::Answer const& answer, std::string_view name)
{
    return figure_of(answer, name).value;
}

inline isochore::calc::Check check_of(isochore::calc::Answer const& answer, std::string_view name)
{
    for (auto const& check : answer.checks)
        if (check.name == name)
            return check;
    FAIL("no check " << name);
    return {};
}

inline bool has_check(isochore::calc::Answer const& answer, std::string_view name)
{
    for (auto const& check : answer.checks)
        if (check.name == name)
            return true;
    return false;
}

inline bool says(std::string const& text, std::string_view part)
{
    return text.find(part) != std::string::npos;
}
