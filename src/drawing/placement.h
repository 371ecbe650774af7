#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <optional>
#include <vector>

namespace isochore::drawing {

/// Finds room for labels by measuring them. Boxes taken are never overlapped; lines and points noted are
/// avoided where there is a choice. The order of asking is the order of importance.
class Placement {
public:
    /// `outer`: no label leaves it.
    Placement(Box outer, MeasureText const& measure) : m_outer(outer), m_measure(measure) {}

    void take(Box box) { m_taken.push_back(box); }
    void avoid(std::vector<Point> const& line, double weight = 10.0);
    void avoid(Box box, double weight = 20.0);
    [[nodiscard]] Box outer() const { return m_outer; }
    [[nodiscard]] MeasureText const& measure() const { return m_measure; }

    /// A place offered for a label: its baseline point, the side it grows to, and how little it is liked.
    struct Offer {
        Point at;
        Align align = Align::left;
        double dislike = 0.0;
    };

    /// How a label may be put.
    struct Wish {
        std::optional<Box> bounds = std::nullopt; ///< holds the label closer than the outer box
        bool backed = false;  ///< a paper patch under the text, so that grid lines do not run through it
        double dearest = 1e9; ///< offers that cost more are refused
        std::optional<Point> leader =
            std::nullopt; ///< where a line to the label starts; it should cross no text
    };

    /// Puts the label at the cheapest of the offers and takes its box; a line end in the text starts a new
    /// line. False, and nothing drawn, when no offer is free.
    bool put(Picture& picture, Label label, std::vector<Offer> const& offers, Wish const& wish);
    bool put(Picture& picture, Label label, std::vector<Offer> const& offers)
    {
        return put(picture, std::move(label), offers, Wish{});
    }

    /// The box of the label put last.
    [[nodiscard]] Box last_box() const { return m_last; }

    /// Patches go in at this place of the display list: over the grid, under the curves.
    void patches_from_here(Picture const& picture) { m_patch_at = picture.items.size(); }

    /// Puts a label where the caller has made sure of the room, and takes its box. Empty text draws nothing.
    void put_fixed(Picture& picture, Label label);

    [[nodiscard]] bool free(Box box) const;
    [[nodiscard]] double cost(Box box) const;

private:
    struct Obstacle {
        Point a, b;
        double weight;
    };
    struct SoftBox {
        Box box;
        double weight;
    };
    void write(Picture& picture, Label const& label, Box box, bool backed);
    [[nodiscard]] double leader_cost(Point from, Box box) const;
    [[nodiscard]] double width_of(Label const& label) const;

    Box m_outer;
    MeasureText const& m_measure;
    std::vector<Box> m_taken;
    std::vector<Obstacle> m_obstacles;
    std::vector<SoftBox> m_soft;
    std::size_t m_patch_at = 0;
    Box m_last;
};

/// Offers around a point: right, left, above, below and the corners, at growing distances.
[[nodiscard]] std::vector<Placement::Offer> offers_around(Point point, double clear, double size);

/// Offers along a line, above and below it, from its end backward: for naming a curve. Lines close to each
/// other are told apart best when all names stand on the same side.
[[nodiscard]] std::vector<Placement::Offer> offers_along(std::vector<Point> const& line, double width,
                                                         double size, bool below_first = false);

/// Offers on a raster over a box, disliked by their distance from `near`.
[[nodiscard]] std::vector<Placement::Offer> offers_within(Box box, Point near, double width, double size);

} // namespace isochore::drawing
