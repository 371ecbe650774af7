#pragma once
#include "app/step_view.h"
#include "session/foresee.h"

namespace isochore::app {

/// The sheet of one step of the outage in hand.
class StepPage final : public Page {
public:
    /// `step` empty: the next open step of the outage.
    explicit StepPage(std::string step = {});
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    /// Turns to the step to do after this one.
    void next(Desk& desk);
    [[nodiscard]] std::optional<double> wake_in_s() const override
    {
        return m_counting ? 1.0 : m_disk_fault ? 3.0 : 30.0;
    }

private:
    [[nodiscard]] model::Step const& step(Desk& desk);
    void turn_to(Desk& desk, std::string id);
    void take_up_draft(Desk& desk);
    void close_sheet(Desk& desk, screens::StepView& v);
    void act_action(Desk& desk, std::string const& action);
    void type_value(Desk& desk);
    void type_column(Desk& desk, std::size_t column);
    void type_person(Desk& desk, bool reader);
    void record(Desk& desk, bool confirmed);
    void add_reading(Desk& desk, bool confirmed);
    void defer(Desk& desk);
    void override_step(Desk& desk);
    void back(Desk& desk);

    [[nodiscard]] session::Evaluation const& evaluation(Desk& desk);

    std::string m_step, m_panel;
    double m_zoom = 1.0;     ///< of the picture spread over the sheet
    std::string m_evaluated; ///< what m_evaluation is of
    session::Evaluation m_evaluation;
    std::optional<session::Foreseen> m_foreseen; ///< what follows from the draft
    StepDraft m_draft;
    bool m_begun = false; ///< what was half typed earlier has been taken up
    bool m_counting = false;
    bool m_disk_fault = false; ///< nothing could be written when the sheet was last drawn
    bool m_well_again = false; ///< and now it can: said until the next touch
};

} // namespace isochore::app
