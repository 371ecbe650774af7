#include "app/outage_frame.h"
#include "app/page_stick.h"
#include "app/pages.h"
#include "json/read.h"
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;

namespace {

struct Theme {
    char const* id;
    char const* label;
    char const* detail;
};
constexpr Theme themes[] = {{"print", said("Print"), said("black on white, for the sun")},
                            {"blueprint", said("Blueprint"), said("light on dark, for the cabinet")},
                            {"plain", said("Plain"), said("highest contrast")}};
constexpr Theme languages[] = {{"en", "English", ""}, {"de", "Deutsch", ""}, {"es", "Español", ""}};

constexpr char const* file_name = "settings.json";

} // namespace

Settings load_settings(disk::Disk& disk, disk::Path const& data, std::string& problem)
{
    Settings settings;
    auto const file = data / file_name;
    if (!disk.exists(file))
        return settings;
    auto const text = disk.read(file, 1u << 16);
    auto const json = text ? read_json(*text, file_name) : Result<Json>(tl::unexpected(text.error()));
    if (!json || !json->is_object()) {
        problem = json ? "settings.json is not an object" : json.error().where + ": " + json.error().detail;
        return settings;
    }
    auto const word = [&](char const* name, std::string& into) {
        if (auto const it = json->find(name); it != json->end() && it->is_string())
            into = it->get<std::string>();
    };
    word("theme", settings.theme);
    word("language", settings.language);
    if (auto const it = json->find("sound"); it != json->end() && it->is_boolean())
        settings.sound = it->get<bool>();
    if (auto const it = json->find("dpi"); it != json->end() && it->is_number())
        settings.dpi = it->get<double>();
    return settings;
}

Result<void> save_settings(disk::Disk& disk, disk::Path const& data, Settings const& settings)
{
    Json const json{{"theme", settings.theme},
                    {"language", settings.language},
                    {"dpi", settings.dpi},
                    {"sound", settings.sound}};
    auto const file = data / file_name, fresh = data / "settings.new";
    if (disk.exists(fresh))
        if (auto done = disk.remove(fresh); !done)
            return done;
    if (auto done = disk.create(fresh, json.dump(2) + "\n"); !done)
        return done;
    if (auto done = disk.flush_file(fresh); !done)
        return done;
    if (disk.exists(file))
        if (auto done = disk.remove(file); !done)
            return done;
    if (auto done = disk.rename(fresh, file); !done)
        return done;
    return disk.flush_directory(data);
}

void SettingsPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    if (desk.outage)
        frame_outage(desk, sheet, {});
    else
        frame_plain(sheet);
    screens::ListView list;
    list.heading = desk.words("Settings");
    auto const add = [&](screens::ListRow row, std::string group, std::optional<bool> chosen = {}) {
        row.group = std::move(group);
        row.chosen = chosen;
        list.rows.push_back(std::move(row));
    };
    for (auto const& t : themes)
        add({std::string("theme.") + t.id, desk.words(t.label), desk.words(t.detail), {}},
            desk.words("Theme"), desk.settings.theme == t.id);
    for (auto const& l : languages)
        add({std::string("language.") + l.id, l.label, {}, {}}, desk.words("Language"),
            desk.settings.language == l.id);
    std::string const tablet = desk.words("This tablet"), more = desk.words("More");
    add(
        {"dpi", desk.words("Size of things"),
         desk.words("Pixels per inch of this display; sizes are in millimetres"),
         desk.settings.dpi > 0.0 ? fmt::format("{:.0f}", desk.settings.dpi) : desk.words("from the system")},
        tablet);
    add({"sound", desk.words("Sound when a reading is due"),
         desk.words("Two notes, again every half minute until the reading is entered"),
         desk.settings.sound ? desk.words("on") : desk.words("off")},
        tablet);
    if (!desk.outage)
        add({"stick",
             desk.words("Sticks, units, keys"),
             desk.words("Prepare units at a desk, write and read settings sticks"),
             {}},
            more);
    add({"about", desk.words("Cautions and about"), {}, {}}, more);
    list.actions = {{"back", desk.words("Back"), {}, true, true, false}};
    sheet.list = std::move(list);
}

void SettingsPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::action) {
        go_home(desk);
        return;
    }
    if (intent.kind == Intent::Kind::stage && desk.outage) {
        desk.go(std::make_unique<JumpPage>(intent.id));
        return;
    }
    if (intent.kind != Intent::Kind::row)
        return;
    if (intent.id == "about") {
        desk.go(std::make_unique<AboutPage>());
        return;
    }
    if (intent.id == "stick") {
        desk.go(std::make_unique<StickPage>());
        return;
    }
    auto const save = [&desk] {
        if (auto const done =
                save_settings(desk.workspace.disk(), desk.workspace.folders().data, desk.settings);
            !done)
            desk.report(done.error());
    };
    if (intent.id == "sound") {
        desk.settings.sound = !desk.settings.sound;
        save();
    } else if (intent.id.starts_with("theme.")) {
        desk.settings.theme = intent.id.substr(6);
        save();
    } else if (intent.id.starts_with("language.")) {
        std::string const language = intent.id.substr(9);
        if (auto const loaded = desk.words.load(desk.workspace.disk(), desk.text_folder, language); !loaded) {
            desk.report(loaded.error());
            return;
        }
        desk.settings.language = language;
        save();
    } else if (intent.id == "dpi") {
        EntryRequest r;
        r.label = desk.words("Pixels per inch");
        r.context = desk.words("Empty or 0 takes the system's word. Common: 100 to 300.");
        r.judge = [&desk](std::string const& whole) {
            auto const n = parse_number(whole, "dpi");
            bool const ok = n && (*n == 0.0 || (*n >= 60.0 && *n <= 600.0));
            return EntryJudgement{{}, ok ? std::string() : desk.words("Between 60 and 600, or 0."), {}};
        };
        r.done = [&desk, save](std::string const& typed, std::string const&) {
            if (auto const n = parse_number(typed, "dpi"))
                desk.settings.dpi = *n;
            save();
        };
        desk.entry.open(std::move(r));
    }
}

} // namespace isochore::app
