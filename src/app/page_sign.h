#pragma once
#include "app/desk.h"
#include "seal/people.h"
#include "session/attach.h"
#include <optional>

namespace isochore::app {

/// Review worst first, then name, PIN and drawn signature, then the sealed record.
class SignPage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;

private:
    void sign(Desk& desk, std::string const& pin);

    std::string m_signer, m_problem;
    std::optional<std::vector<session::LostFile>> m_lost; ///< read once: photos are megabytes
    std::vector<std::vector<drawing::Point>> m_strokes;
    std::vector<std::string> m_files; ///< what was written when it was sealed here
};

} // namespace isochore::app
