#include "language/places.h"

namespace isochore::language {

std::string translated(Translate const& translate, std::string_view english,
                       std::initializer_list<std::string> values)
{
    return translate ? translate(english, values) : fill_places(std::string(english), values);
}

} // namespace isochore::language
