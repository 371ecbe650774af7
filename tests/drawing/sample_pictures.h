#pragma once
#include "drawing/clearance.h"
#include "drawing/ct_taps.h"
#include "drawing/fitting_chain.h"
#include "drawing/leak_line.h"
#include "drawing/line_diagram.h"
#include "drawing/marks.h"
#include "drawing/pt_diagram.h"
#include "drawing/purge_curve.h"
#include "drawing/resistor_window.h"
#include "drawing/wiring.h"
#include <functional>
#include <string>
#include <vector>

namespace isochore::tests {

/// A picture with realistic figures, drawn to any size; shared by the gallery and the tests.
struct Sample {
    std::string name;
    std::function<drawing::Picture(drawing::Space, drawing::MeasureText const&)> draw;
};
std::vector<Sample> sample_pictures();

drawing::PtDiagram sample_pt();
drawing::PurgeCurve sample_purge();
drawing::LeakLine sample_leak();
drawing::ResistorRuler sample_ruler();
drawing::WiringDiagram sample_wiring(drawing::Connection connection);
drawing::FittingChain sample_chain();
drawing::ClearanceSection sample_clearance();
drawing::CtTaps sample_taps();
std::vector<drawing::LineStage> sample_stages();

} // namespace isochore::tests
