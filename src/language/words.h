#pragma once
#include "disk/disk.h"
#include "language/phrase_book.h"
#include "language/places.h"
#include "model/checklist.h"
#include "model/entry_words.h"
#include "model/job_rules.h"
#include <initializer_list>
#include <string>
#include <string_view>

namespace isochore::language {

/// The language of the sheet. English is in the code and in the checklists; another language lies over it
/// from assets/text/LANG.json (checklists, by key), ui.LANG.json (the window's own words, by their English
/// text) and said.LANG.json (what the layers below say, by PhraseBook). What is missing stays English.
/// Numbers and units never change.
class Words final : public model::EntryWords {
public:
    Words() = default;
    /// Errors: not_found, corrupt; the words stay as they were.
    [[nodiscard]] Result<void> load(disk::Disk& disk, disk::Path const& text_folder,
                                    std::string_view language);
    [[nodiscard]] std::string const& language() const { return m_language; }
    /// The titles and answers of these checklists are known inside sentences too. Forgotten by load().
    void learn(model::Checklists const& checklists);

    [[nodiscard]] std::string operator()(std::string_view english) const;
    /// The same with each {} replaced by the next value: other languages put values elsewhere.
    [[nodiscard]] std::string operator()(std::string_view english,
                                         std::initializer_list<std::string> values) const;
    [[nodiscard]] std::string said(std::string_view english,
                                   std::initializer_list<std::string> values) const override
    {
        return (*this)(english, values);
    }
    [[nodiscard]] std::string title(model::Step const& step) const override;
    /// The title of the step or stage that has this English one, as the journal and the plan name them.
    [[nodiscard]] std::string title_of(model::Checklists const& checklists, std::string const& english) const;
    [[nodiscard]] std::string text(model::Step const& step) const;
    [[nodiscard]] std::string why(model::Step const& step) const;
    [[nodiscard]] std::string wrong(model::Step const& step) const;
    /// What an answer leads to.
    [[nodiscard]] std::string then(model::Step const& step, model::StepAnswer const& answer) const;
    /// Where a step or a limit comes from: a standard keeps its name.
    [[nodiscard]] std::string source(std::string const& english) const;
    /// What a lower layer said in English, one sentence or several, by PhraseBook.
    [[nodiscard]] std::string sentence(std::string_view english) const override;
    /// These words for what the session draws; they must outlive it.
    [[nodiscard]] Translate for_pictures() const;
    [[nodiscard]] std::string about(model::Stage const& stage) const;
    /// A reason as the journal holds it, in English: what an answer leads to, the answer itself, a sentence.
    [[nodiscard]] std::string reason(model::Step const& step, std::string const& english) const override;
    [[nodiscard]] std::string answer(model::Step const& step, model::StepAnswer const& answer) const override;
    [[nodiscard]] std::string title(model::Stage const& stage) const;
    [[nodiscard]] std::string brief(model::Stage const& stage) const;
    [[nodiscard]] std::string title(model::Caution const& caution) const;
    [[nodiscard]] std::string text(model::Caution const& caution) const;

private:
    [[nodiscard]] std::string keyed(std::string const& key, std::string const& english) const;
    std::string m_language = "en";
    TextTable m_keyed, m_own;
    PhraseBook m_phrases;
};

} // namespace isochore::language
