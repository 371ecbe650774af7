#pragma once
#include "mechanical/thread.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::mechanical {

enum class Gender { male, female };

/// How an end makes its seal.
enum class Form {
    face,   ///< parallel thread, seal on a flat face (bonded washer or O-ring)
    taper,  ///< in the thread, with sealant
    cone37, ///< metal cone, 37 degrees (SAE J514)
    cone45, ///< metal cone, 45 degrees (SAE J512)
    boss,   ///< straight thread with an O-ring in a chamfer (SAE J1926)
    tube,   ///< plain tube in a ferrule fitting; the thread's major diameter is the tube's outside
};
[[nodiscard]] std::string_view form_name(Form form);
[[nodiscard]] std::optional<Form> form_by_name(std::string_view name);

/// One end of a part.
struct End {
    Thread thread;
    Gender gender = Gender::male;
    Form form = Form::face;
    [[nodiscard]] std::string text() const; ///< "G 3/8 female, face"
};

/// One thing that can be measured to tell two threads apart.
struct Distinction {
    std::string measure; ///< "pitch gauge"
    std::string of_a, of_b;
    double distance = 0.0; ///< difference in standard uncertainties of that measurement
};

/// How well a person tells one thread from another: standard uncertainties by hand, and how many of them two
/// readings must lie apart.
struct ThreadGauges {
    double u_major_m = 0.0, u_pitch_m = 0.0;
    double u_taper = 0.0; ///< of the change of diameter with length
    double u_flank_deg = 0.0, u_cone_deg = 0.0;
    double apart = 0.0;
};

/// How near two threads must be to be taken for one another, and what then happens.
struct LookAlikes {
    double major_m = 0.0;       ///< in diameter, and
    double pitch_ratio = 1.0;   ///< in pitch
    double tube_m = 0.0;        ///< tubes: in outside diameter
    double engages_pitch = 0.0; ///< relative difference in pitch up to which they engage over their length
    double binds_m = 0.0;       ///< difference in diameter up to which they start, then bind
};

/// Both come as data with their source: no figure of them is in code.
struct ThreadRules {
    ThreadGauges gauges;
    LookAlikes alike;
};

/// What separates two threads or ends, best first; only measures that separate far enough. Calliper, pitch
/// gauge, taper over 10 mm, flank gauge, cone gauge.
[[nodiscard]] std::vector<Distinction> tell_apart(End const& a, End const& b, ThreadGauges const& gauges);

/// True for threads near enough in diameter and pitch to be taken for one another.
[[nodiscard]] bool look_alike(Thread const& a, Thread const& b, LookAlikes const& alike);

enum class JointFault { none, gender, look_alike, thread, form, seal };

struct Joint {
    JointFault fault = JointFault::none;
    std::string text;               ///< why it mates or not
    std::string tell_apart;         ///< how to know which one is in the hand; empty when it mates
    std::vector<std::string> seals; ///< seals that suit the joint
};

/// Whether two ends make a gas-tight joint. `seal` is the seal to be used; empty means not chosen yet.
/// Rules: G and M mate with their own kind at a face; R with Rc or Rp of the same size; NPT with NPT; UN with
/// UN of the same form; tubes by outside diameter. Sources: ISO 228-1, ISO 7-1, ASME B1.20.1, SAE J514, J512,
/// J1926 (from memory).
[[nodiscard]] Joint check_joint(End const& a, End const& b, std::string_view seal, ThreadRules const& rules);

} // namespace isochore::mechanical
