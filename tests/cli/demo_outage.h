#pragma once
#include "cli/stick_commands.h"
#include "cli_support.h"

namespace cli_test {

/// The demo outage through the job commands, a step a command, as a script would.
class DemoOutage {
public:
    explicit DemoOutage(Tablet& tablet)
        : m_tablet(tablet),
          m_demo(*read_json(text_of(source_file("tests/rehearsals/demo_answers.json")), "demo"))
    {
    }

    /// Begins it; the name of the outage.
    std::string create()
    {
        cli::JobOptions o;
        o.profile = m_demo["profile"].get<std::string>();
        for (auto const& [name, value] : m_demo["facts"].items())
            o.facts.push_back(name + "=" + value.get<std::string>());
        for (auto const& name : m_demo["crew"])
            o.crew.push_back(name.get<std::string>());
        auto const said = m_tablet.run(cli::job_create_command, o);
        m_job = said.code == 0 ? said.text.substr(0, said.text.find('\n')) : std::string();
        return m_job;
    }

    /// Enters the steps before `end` that were not entered yet. The first thing refused, or nothing.
    std::string enter_until(std::string const& end)
    {
        for (; m_next < m_demo["steps"].size(); ++m_next) {
            Json const& step = m_demo["steps"][m_next];
            if (step["step"] == end)
                return {};
            if (auto const refused = enter(step); !refused.empty())
                return step["step"].get<std::string>() + ": " + refused;
        }
        return {};
    }

    [[nodiscard]] cli::JobOptions options(std::string step = {}, std::string value = {}) const
    {
        cli::JobOptions o;
        o.job = m_job;
        o.step = std::move(step);
        o.value = std::move(value);
        return o;
    }

private:
    std::string enter(Json const& step)
    {
        cli::JobOptions o = options(step["step"].get<std::string>());
        o.reader = step.value("reader", std::string());
        o.doer = step.value("doer", std::string());
        if (step.contains("shown")) {
            cli::StickOptions s;
            s.job = m_job;
            s.record = true;
            s.reader = o.reader, s.doer = o.doer;
            for (auto const& [path, text] : step["shown"].items())
                s.values.push_back(path + "=" + text.get<std::string>());
            auto const said = m_tablet.run(cli::stick_readback_command, s);
            return said.code == 0 ? std::string() : said.text;
        }
        for (char const* member : {"typed", "answer"})
            if (step.contains(member))
                o.value = step[member].get<std::string>();
        if (step.contains("readings"))
            for (auto const& reading : step["readings"]) {
                cli::JobOptions r = o;
                r.at_s = reading["minutes"].get<double>() * 60.0;
                r.values = reading["values"].get<std::vector<std::string>>();
                if (auto const said = m_tablet.run(cli::job_enter_command, r); said.code != 0)
                    return said.text;
            }
        auto const said = m_tablet.run(cli::job_enter_command, o);
        return said.code == 0 ? std::string() : said.text;
    }

    Tablet& m_tablet;
    Json m_demo;
    std::string m_job;
    std::size_t m_next = 0;
};

} // namespace cli_test
