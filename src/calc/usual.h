#pragma once
#include "calc/inputs.h"

namespace isochore::calc {

/// What a calculation takes where its input is not given, from assets/parts/usual.json.
struct Usual {
    std::string text;  ///< "10 mA", as in the file
    std::string means; ///< "noise floor of the reading"
    std::string source, confidence;
};
/// The entry of a calculation's input ("noise.frequency" for a member of an object); nullptr: there is none.
[[nodiscard]] Usual const* usual(std::string_view calc, std::string_view input);

/// Its SI value. Not for pressures. A missing or unreadable entry gives 0; a test holds every use against
/// the file.
[[nodiscard]] double usual_si(std::string_view calc, std::string_view input, Dimension dimension);

/// The input as given, else the usual value, which is said in the notes of `in` with its source. `from`
/// holds the input; where it is a member of an object, `input` is its whole name and `from` that object.
double given_or_usual(Inputs& in, Inputs& from, std::string_view calc, std::string_view input,
                      Dimension dimension);
double given_or_usual(Inputs& in, std::string_view calc, std::string_view input, Dimension dimension);
/// The same of a whole number within bounds, read as read_count() does (calc/counts.h).
[[nodiscard]] int count_or_usual(Inputs& in, std::string_view calc, std::string_view input, int least,
                                 int most);
/// Says in the notes that the usual value was taken.
void note_usual(Inputs& in, std::string_view calc, std::string_view input);

} // namespace isochore::calc
