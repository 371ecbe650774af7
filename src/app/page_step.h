#pragma once
#include "app/step_view.h"
#include "session/attach.h"
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
    /// Says when the file of an attach step is no longer as it was recorded.
    void say_lost_file(Desk& desk, screens::StepView& v);
    /// After a long break the last physical step is looked at again before anything is entered. True when
    /// the person was asked now, and nothing else is to be done.
    bool asks_to_look_again(Desk& desk);
    void act_action(Desk& desk, std::string const& action);
    void type_value(Desk& desk);
    void type_column(Desk& desk, std::size_t column);
    void type_person(Desk& desk, bool reader);
    void record(Desk& desk, bool confirmed);
    void add_reading(Desk& desk, bool confirmed);
    void begin_new_series(Desk& desk);
    void override_step(Desk& desk);
    void back(Desk& desk);

    [[nodiscard]] session::Evaluation const& evaluation(Desk& desk);

    std::string m_step, m_panel;
    double m_zoom = 1.0;     ///< of the picture spread over the sheet
    std::string m_evaluated; ///< what m_evaluation is of
    session::Evaluation m_evaluation;
    std::optional<session::Foreseen> m_foreseen; ///< what follows from the draft
    std::string m_files_of;                      ///< the step and the entries m_lost was read for
    std::vector<session::LostFile> m_lost;
    StepDraft m_draft;
    bool m_begun = false; ///< what was half typed earlier has been taken up
    bool m_counting = false;
    bool m_disk_fault = false; ///< nothing could be written when the sheet was last drawn
    bool m_well_again = false; ///< and now it can: said until the next touch
};

} // namespace isochore::app
