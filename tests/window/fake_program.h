#pragma once
#include "screens/demo_sheets.h"
#include "window/program.h"

/// A program of three sheets and a keypad, to try the window and the rehearsals without the true one.
namespace isochore::demo {

class FakeProgram : public window::Program {
public:
    std::string current = "fill";
    std::string typed, recorded;
    std::vector<screens::Intent> seen;
    int views = 0;
    bool entry = false, quit = false, text = false;
    std::optional<double> wake;
    std::vector<std::vector<drawing::Point>> strokes;

    screens::SheetView view(screens::PictureSpace space) override
    {
        ++views;
        screens::SheetView view;
        for (auto const& sheet : sheets())
            if (sheet.name == current)
                view = sheet.make(space);
        if (view.sign)
            view.sign->strokes = strokes;
        if (view.step && !recorded.empty())
            view.step->fields[0].typed = recorded;
        if (entry) {
            view.entry.emplace();
            view.entry->label = "Gauge now";
            view.entry->typed = typed;
            view.entry->unit = "bar g";
            view.entry->text = text;
            view.entry->can_enter = !typed.empty();
        }
        return view;
    }
    void act(screens::Intent const& intent) override
    {
        using Kind = screens::Intent::Kind;
        seen.push_back(intent);
        if (intent.kind == Kind::field)
            entry = true;
        else if (intent.kind == Kind::stroke)
            strokes = intent.strokes;
        else if (intent.kind == Kind::action && intent.id == "record")
            current = "sign";
        else if (intent.kind == Kind::action && intent.id == "seal")
            current = "sealed";
        else if (intent.kind == Kind::action && intent.id == "back")
            current = "jump";
        else if (intent.kind == Kind::row)
            current = "fill";
        else if (intent.kind == Kind::key && intent.text == "enter") {
            recorded = typed;
            entry = false;
        } else if (intent.kind == Kind::key && intent.text == "cancel")
            entry = false;
        else if (intent.kind == Kind::key && intent.text == "backspace") {
            if (!typed.empty())
                typed.pop_back();
        } else if (intent.kind == Kind::key)
            typed += intent.text;
    }
    window::Settings settings() override { return {}; }
    std::optional<double> wake_in_s() override { return wake; }
    bool wants_quit() override { return quit; }
};

} // namespace isochore::demo
