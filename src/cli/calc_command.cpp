#include "calc/registry.h"
#include "cli/commands.h"
#include <istream>
#include <ostream>

namespace isochore::cli {

int calc_command(std::istream& in, std::ostream& out)
{
    for (std::string line; std::getline(in, line);) {
        if (line.find_first_not_of(" \t\r") == std::string::npos)
            continue; // an empty line asks nothing
        out << calc::answer_line(line) << '\n' << std::flush;
    }
    return 0;
}

int calc_list_command(std::ostream& out)
{
    for (auto const* c : calc::all_calculations())
        out << c->name << std::string(c->name.size() < 20 ? 20 - c->name.size() : 1, ' ') << c->purpose
            << '\n';
    return 0;
}

} // namespace isochore::cli
