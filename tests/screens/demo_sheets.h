#pragma once
#include "screens/views.h"
#include <functional>
#include <string>
#include <vector>

/// Sheets of every kind with invented data, for the gallery and the layout tests. The figures on them are
/// made up to look like a job; none is computed and none is checked.
namespace isochore::demo {

struct Sheet {
    std::string name;
    std::function<screens::SheetView(screens::PictureSpace)> make;
};

[[nodiscard]] std::vector<Sheet> sheets();

/// The same sheets with every word made as long as German makes it, to see that nothing is cut.
[[nodiscard]] screens::SheetView lengthened(screens::SheetView view);

[[nodiscard]] drawing::Picture demo_isochores(screens::PictureSpace space);
[[nodiscard]] drawing::Picture demo_purge(screens::PictureSpace space);
[[nodiscard]] drawing::Picture demo_wiring(screens::PictureSpace space);

} // namespace isochore::demo
