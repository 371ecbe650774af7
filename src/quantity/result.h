#pragma once
#include <string>
#include <tl/expected.hpp>
#include <utility>

namespace isochore {

/// What went wrong, for two readers: `code` for the program, `detail` for the person holding the tablet.
struct Error {
    enum class Code {
        invalid_input, ///< text that cannot be read, or a value of the wrong kind
        missing_input, ///< a required value is not there
        out_of_range,  ///< outside what is physically possible or where an equation is valid
        two_phase,     ///< the state lies between vapour and liquid
        liquid,        ///< the state is liquid
        no_solution,   ///< the constraints leave nothing, or the data cannot decide
        unknown,       ///< no such name
        not_found,     ///< no such file, entry or device
        corrupt,       ///< stored data that does not hold together
        denied,        ///< not allowed: a wrong PIN, a locked step, a read-only target
        io,            ///< reading or writing failed
        device,        ///< the stick or display failed
    };
    Code code = Code::invalid_input;
    std::string where;  ///< "inputs.pressure", "profiles/a.json: gas.nominal", "journal entry 41"
    std::string detail; ///< one sentence that names the value refused and, where it can, what to do
};

/// The code as written in files and answers, e.g. "invalid_input".
[[nodiscard]] char const* code_name(Error::Code code);

template <class T> using Result = tl::expected<T, Error>;

/// Shorthand for returning an error from a function that yields a Result.
[[nodiscard]] inline tl::unexpected<Error> fail(Error::Code code, std::string where, std::string detail)
{
    return tl::unexpected<Error>(Error{code, std::move(where), std::move(detail)});
}

} // namespace isochore
