#include "drawing/mass_account.h"
#include "session/picture_parts.h"
#include "json/member.h"
#include <cmath>

namespace isochore::session {

std::optional<drawing::Picture> account_picture(PictureQuestion const& q)
{
    double const out = q.figure("mass_from_cylinder"), in = q.figure("mass_into_breaker"),
                 rest = q.figure("handling_loss"), hoses = q.figure("mass_in_hoses");
    if (!std::isfinite(out) || !std::isfinite(in) || !std::isfinite(rest))
        return std::nullopt;
    drawing::MassAccount account;
    account.out.mass_kg = out;
    account.out.u95_kg = q.half_width("mass_from_cylinder");
    account.found.push_back({q.words("into the breaker"), in, q.half_width("mass_into_breaker")});
    if (std::isfinite(hoses) && hoses > 0.0)
        account.found.push_back({q.words("in the hoses"), hoses, q.half_width("mass_in_hoses")});
    account.rest.mass_kg = rest;
    account.rest.u95_kg = q.half_width("handling_loss");
    account.verdict = text_member(q.result, "verdict") == "fail" ? drawing::Mark::fail : drawing::Mark::none;
    q.say({&account.out.name, &account.rest.name});
    q.say(account.x_titles);
    return drawing::mass_account(account, q.space, q.measure);
}

} // namespace isochore::session
