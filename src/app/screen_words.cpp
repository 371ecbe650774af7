#include "app/screen_words.h"

namespace isochore::app {

screens::WordsView screen_words(Words const& words)
{
    using W = screens::WordsView;
    // Every member of WordsView; tests/app/check_ui_words.py misses any that is not here.
    constexpr std::string W::*all[] = {
        &W::why,    &W::working,   &W::history,     &W::picture, &W::if_wrong,   &W::source,
        &W::locked, &W::recorded,  &W::enter_value, &W::search,  &W::hold,       &W::station,
        &W::bay,    &W::breaker,   &W::job,         &W::used,    &W::revision,   &W::sheet,      &W::enter,
        &W::cancel, &W::clear,     &W::space,       &W::shift,   &W::signs,      &W::readings,
        &W::budget, &W::signature, &W::pin,         &W::signer,  &W::deviations, &W::none};
    W view;
    for (auto const word : all)
        view.*word = words(view.*word);
    return view;
}

} // namespace isochore::app
