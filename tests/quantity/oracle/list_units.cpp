// Prints every unit the program knows: dimension, name, factor and offset to SI, for units_oracle.py.
#include "quantity/unit.h"
#include <cstdio>

int main()
{
    using namespace isochore;
    for (Unit const& unit : all_units()) {
        auto const dimension = dimension_name(unit.dimension);
        std::printf("%.*s\t%.*s\t%.17g\t%.17g\n", static_cast<int>(dimension.size()), dimension.data(),
                    static_cast<int>(unit.name.size()), unit.name.data(), unit.factor, unit.offset);
    }
}
