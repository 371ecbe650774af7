#include "cli/answers.h"
#include "cli/bench.h"
#include "cli/chosen.h"
#include <fmt/format.h>
#include <fstream>

// A script of job commands, one a line, as they would stand after "isochore job": "enter J joint.temperature
// '14.2 degC'"; a line that begins with "stick" stands as after "isochore". "#" begins a comment. With a
// clock that stands still, "later SECONDS" lets time pass. The store is opened once; each line is answered,
// and on the disk, before the next is read. The first line that is refused ends the script; a step that fails
// does not, since it is recorded.
namespace isochore::cli {
namespace {

using Code = Error::Code;

constexpr int refused = 2;

struct Script {
    Places places;
    session::SetClock* clock = nullptr; ///< the bench's, where it stands still
};

int later(Script& script, std::string const& seconds, std::ostream& out)
{
    if (!script.clock)
        return say_error(out, {Code::denied, "later", "time runs by itself without --clock"});
    auto const span = parse_amount(seconds + " s", Dimension::time, "later");
    if (!span || span->si < 0)
        return say_error(out, {Code::invalid_input, "later", "\"" + seconds + "\" is no number of seconds"});
    script.clock->advance(span->si);
    return 0;
}

int run_line(Script& script, std::string const& line, std::ostream& out)
{
    if (line.starts_with("later "))
        return later(script, line.substr(6), out);
    if (line.starts_with("script"))
        return say_error(out, {Code::denied, "script", "a script cannot run another one"});
    Chosen c;
    c.places = script.places;
    c.out = &out;
    CLI::App app{"isochore"};
    add_job_commands(app, c);
    add_stick_commands(app, c);
    try {
        app.parse(line.starts_with("stick ") ? line : "job " + line);
    } catch (CLI::ParseError const& e) {
        return say_error(out, {Code::invalid_input, "script", e.what()});
    }
    return c.code;
}

int run_lines(Script& script, std::istream& in, std::ostream& out)
{
    std::string line;
    for (int n = 1; std::getline(in, line); ++n) {
        auto const first = line.find_first_not_of(" \t");
        if (first == std::string::npos || line[first] == '#')
            continue;
        int const code = run_line(script, line.substr(first), out);
        if (code == refused) {
            out << fmt::format("Stopped at line {}: {}\n", n, line);
            return code;
        }
        out << fmt::format("Line {} done.\n", n) << std::flush; // what reads along knows it is on the disk
    }
    return 0;
}

} // namespace

int job_script_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    Script script{places, nullptr};
    script.places.bench = std::make_shared<Bench>();
    if (!o.clock.empty()) {
        std::string const moment =
            o.clock.ends_with('Z') ? o.clock.substr(0, o.clock.size() - 1) + "+00:00" : o.clock;
        std::int64_t const ms = session::stamp_ms(moment);
        if (ms == 0)
            return say_error(out, {Code::invalid_input, "--clock",
                                   "\"" + o.clock + "\" is no time like 2026-03-02T08:00:00Z"});
        auto clock = std::make_unique<session::SetClock>(ms, "set " + moment);
        script.clock = clock.get();
        script.places.bench->clock = std::move(clock);
    }
    if (auto const bench = open_bench(script.places); !bench)
        return say_error(out, bench.error());
    if (o.file == "-")
        return run_lines(script, std::cin, out);
    std::ifstream in(o.file);
    if (!in)
        return say_error(out, {Code::not_found, o.file, "there is no such script"});
    return run_lines(script, in, out);
}

} // namespace isochore::cli
