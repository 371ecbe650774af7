#pragma once
#include "drawing/air_left.h"
#include "drawing/bolt_load.h"
#include "drawing/cable_runs.h"
#include "drawing/clearance.h"
#include "drawing/coil_states.h"
#include "drawing/ct_path.h"
#include "drawing/ct_taps.h"
#include "drawing/fitting_chain.h"
#include "drawing/frost_line.h"
#include "drawing/leak_found.h"
#include "drawing/leak_line.h"
#include "drawing/line_diagram.h"
#include "drawing/loop_scale.h"
#include "drawing/marks.h"
#include "drawing/mass_account.h"
#include "drawing/phase_sum.h"
#include "drawing/pt_diagram.h"
#include "drawing/purge_curve.h"
#include "drawing/reading_scale.h"
#include "drawing/resistor_window.h"
#include "drawing/sight_line.h"
#include "drawing/thread_plane.h"
#include "drawing/time_limits.h"
#include "drawing/time_plan.h"
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
drawing::CoilStates sample_states();
drawing::ThreadPlane sample_thread();
drawing::BoltLoad sample_bolts();
drawing::SightLine sample_sight();
drawing::CableRuns sample_cables();
drawing::CtPath sample_path();
drawing::LoopScale sample_loop();
std::vector<drawing::LineStage> sample_stages();
drawing::TimePlan sample_plan();
drawing::TimeLimits sample_limits();
drawing::PhaseSum sample_phases();
drawing::LeakFound sample_found();
drawing::AirLeft sample_air();
drawing::FrostLine sample_frost();
drawing::MassAccount sample_account();
drawing::ReadingScale sample_reading();

} // namespace isochore::tests
