#include "cli/answers.h"
#include "cli/bench.h"
#include <ostream>

namespace isochore::cli {

int job_verify_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    auto bench = open_bench(places);
    if (!bench)
        return say_error(out, bench.error(), o.json);
    auto& journal = (*bench)->workspace->journal();
    std::size_t count = 0;
    if (!o.job.empty()) {
        auto const entries = journal.entries(o.job);
        if (!entries)
            return say_error(out, entries.error(), o.json);
        if (entries->empty())
            return say_error(out, {Error::Code::not_found, o.job, "there is no outage of that name"}, o.json);
        count = entries->size();
    }
    if (auto const whole = o.job.empty() ? journal.verify_all() : journal.verify(o.job); !whole) {
        say_error(out, whole.error(), o.json);
        return whole.error().code == Error::Code::corrupt ? 1 : 2;
    }
    if (o.json)
        say_json(out, {{"job", o.job}, {"whole", true}, {"entries", count}});
    else if (o.job.empty())
        out << "The store is whole: every entry follows from the one before it.\n";
    else
        out << o.job << ": " << count << " entries, each follows from the one before it.\n";
    return 0;
}

} // namespace isochore::cli
