#include "calc/part_library.h"
#include "calc/inputs.h"
#include "calc/part_data.h"
#include "json/read.h"

namespace isochore::calc {
namespace {

using namespace mechanical;

struct Library {
    std::vector<ScrewSize> sizes;
    std::vector<ScrewGrade> grades;
    std::vector<Thread> threads;
    Json fittings = Json::object(), kit = Json::object(), stages = Json::object(), loop = Json::object(),
         ties = Json::object();
    std::string fault;
};

Json parse(Library& library, std::string_view name)
{
    auto json = read_json(part_data(name), std::string(name) + ".json");
    if (json && json->is_object())
        return std::move(*json);
    library.fault =
        json ? std::string(name) + ".json is no object" : json.error().where + ": " + json.error().detail;
    return Json::object();
}

void keep_fault(Library& library, Inputs const& in)
{
    if (in.error() && library.fault.empty())
        library.fault = in.error()->where + ": " + in.error()->detail;
}

/// "pitch" in mm, or "tpi" as threads in 25.4 mm.
double read_pitch(Inputs& in)
{
    Json const& tpi = in.raw("tpi");
    if (tpi.is_number() && tpi.get<double>() > 0.0)
        return 0.0254 / tpi.get<double>();
    return in.quantity("pitch", Dimension::length);
}

void read_fasteners(Library& library)
{
    Json const file = parse(library, "fasteners");
    library.ties = file.value("ties", Json::object());
    Inputs all(file, "fasteners.json");
    for (Inputs& in : all.list("sizes")) {
        library.sizes.push_back(
            {in.text("id"), in.quantity("diameter", Dimension::length), read_pitch(in), in.has("tpi")});
        keep_fault(library, in);
    }
    for (Inputs& in : all.list("grades")) {
        library.grades.push_back({in.text("id"), in.quantity("proof", Dimension::stress),
                                  in.quantity("yield", Dimension::stress),
                                  in.quantity("tensile", Dimension::stress)});
        keep_fault(library, in);
    }
}

void read_threads(Library& library)
{
    Json const file = parse(library, "threads");
    Inputs all(file, "threads.json");
    for (Inputs& in : all.list("threads")) {
        Thread t;
        t.id = in.text("id");
        t.family = in.text("family");
        t.major_m = in.quantity("major", Dimension::length);
        t.pitch_m = read_pitch(in);
        bool known = false;
        for (Json const& family : file.value("families", Json::array()))
            if (family.value("id", "") == t.family) {
                t.flank_deg = family.value("flank_angle", 60.0);
                t.taper = family.value("taper", 0.0);
                t.seals_in_thread = family.value("seals_in_thread", false);
                known = true;
            }
        if (!known)
            in.refuse(Error::Code::corrupt, "family", "\"" + t.family + "\" is not among the families");
        keep_fault(library, in);
        library.threads.push_back(std::move(t));
    }
}

Library const& library()
{
    static Library const built_in = [] {
        Library l;
        read_fasteners(l);
        read_threads(l);
        l.fittings = parse(l, "fittings");
        l.kit = parse(l, "kit");
        l.stages = parse(l, "stages");
        l.loop = parse(l, "loop");
        return l;
    }();
    return built_in;
}

} // namespace

std::vector<ScrewSize> const& screw_sizes()
{
    return library().sizes;
}
std::vector<ScrewGrade> const& screw_grades()
{
    return library().grades;
}
std::vector<Thread> const& threads()
{
    return library().threads;
}
Json const& fitting_data()
{
    return library().fittings;
}
Json const& kit_data()
{
    return library().kit;
}
Json const& stage_data()
{
    return library().stages;
}
Json const& tie_rule()
{
    return library().ties;
}
Json const& loop_data()
{
    return library().loop;
}
std::string const& library_fault()
{
    return library().fault;
}

Thread const* find_thread(std::string_view id)
{
    for (Thread const& t : threads())
        if (t.id == id)
            return &t;
    return nullptr;
}

} // namespace isochore::calc
