#include "model/entry_words.h"

namespace isochore::model {

std::string fill_places(std::string text, std::initializer_list<std::string> values)
{
    std::size_t at = 0;
    for (auto const& value : values) {
        at = text.find("{}", at);
        if (at == std::string::npos)
            break;
        text.replace(at, 2, value);
        at += value.size();
    }
    return text;
}

std::string EntryWords::said(std::string_view english, std::initializer_list<std::string> values) const
{
    return fill_places(std::string(english), values);
}

EntryWords const& plain_words()
{
    static EntryWords const words;
    return words;
}

} // namespace isochore::model
