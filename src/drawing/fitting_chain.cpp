#include "drawing/fitting_chain.h"
#include "drawing/axis.h"
#include "drawing/chain_parts.h"
#include "drawing/placement.h"
#include "drawing/text.h"
#include <algorithm>
#include <fmt/format.h>
#include <numeric>
#include <optional>

namespace isochore::drawing {

namespace {

ChainJoint joint_of(FittingChain const& chain, std::size_t i)
{
    return i < chain.joints.size() ? chain.joints[i] : ChainJoint{};
}

double positive(double value, double otherwise)
{
    return drawable(value) && value > 0.0 ? value : otherwise;
}

/// Lengths along the run that add up to `total`: as the parts are, but none shorter or longer than these
/// shares of the mean, so that each can be seen and named.
std::vector<double> lengths(FittingChain const& chain, double total, double shortest, double longest)
{
    std::vector<double> drawn;
    double sum = 0.0;
    for (auto const& part : chain.parts)
        sum += positive(part.length_mm, 20.0);
    double const mean = sum / static_cast<double>(chain.parts.size());
    for (auto const& part : chain.parts)
        drawn.push_back(std::clamp(positive(part.length_mm, 20.0), mean * shortest, mean * longest));
    double const all = std::accumulate(drawn.begin(), drawn.end(), 0.0);
    for (double& length : drawn)
        length *= total / all;
    return drawn;
}

double thickness(FittingChain const& chain, ChainPart const& part, double most)
{
    double widest = 1.0;
    for (auto const& p : chain.parts)
        widest = std::max(widest, positive(p.diameter_mm, 20.0));
    return most * std::clamp(positive(part.diameter_mm, 20.0) / widest, 0.45, 1.0);
}

class Drawer {
public:
    Drawer(FittingChain const& chain, Space space, MeasureText const& measure, double size)
        : m_chain(chain), m_placement({0.0, 0.0, space.width_mm, space.height_mm}, measure), m_size(size)
    {
        m_picture.width = space.width_mm;
        m_picture.height = space.height_mm;
    }

    Picture draw(Run run)
    {
        m_bottom = m_picture.height;
        totals();
        if (m_chain.parts.empty())
            return std::move(m_picture);
        if (run == Run::lying)
            lying();
        else
            standing();
        return std::move(m_picture);
    }

    [[nodiscard]] int lost() const { return m_lost; } ///< texts that had no room or were cut

private:
    double measure(std::string const& text, Face face = Face::regular) const
    {
        return m_placement.measure()(text, face, m_size);
    }
    /// Width for text from x on. The screen paints at the nearest size it has, up to 6 % above the one asked.
    double room_from(double x) const { return (m_picture.width - x - 0.4) / 1.06; }
    double line() const { return m_size * line_pitch; }
    double pitch() const { return std::max(m_pitch, line()); } ///< of the list's rows

    void totals()
    {
        if (m_chain.totals.empty())
            return;
        auto const lines =
            wrap_text(m_chain.totals, room_from(0.5), Face::bold, m_size, m_placement.measure());
        double base =
            m_picture.height - ink_below * m_size - 0.3 - line() * static_cast<double>(lines.size() - 1);
        m_bottom = base - (1.5 - ink_below) * m_size + 0.3;
        for (auto const& text : lines) {
            m_placement.put_fixed(m_picture, {{0.5, base}, text, m_size, Ink::text, Face::bold});
            base += line();
        }
    }

    void lying()
    {
        double const thick = std::clamp(m_bottom * 0.22, 10.0, 28.0);
        double const marks = 2.4 * m_size + 6.5; // number, mark and leader above the run
        double const axis = marks + thick / 2.0;
        auto const drawn = lengths(m_chain, m_picture.width - 2.0, 0.6, 2.2);
        double x = 1.0;
        for (std::size_t i = 0; i < m_chain.parts.size(); ++i) {
            auto const& part = m_chain.parts[i];
            draw_chain_part(m_picture, part.shape,
                            {{x, axis}, drawn[i], thickness(m_chain, part, thick), Run::lying});
            m_centres.push_back(x + drawn[i] / 2.0);
            x += drawn[i];
            m_ends.push_back(x);
        }
        for (std::size_t i = 0; i + 1 < m_chain.parts.size(); ++i)
            numbered_joint(i, m_ends[i], marks);
        double const below = name_parts(marks + thick + 1.0);
        list(below + 0.6 * m_size);
    }

    void numbered_joint(std::size_t i, double x, double y)
    {
        double const mark = 1.5 * m_size;
        Label const number{{x, 0.85 * m_size}, std::to_string(i + 1), m_size, Ink::text,
                           Face::bold,         Align::centre};
        if (m_placement.free(label_box(number, measure(number.text, Face::bold)).grown(0.2)))
            m_placement.put_fixed(m_picture, number);
        draw_mark(m_picture, joint_of(m_chain, i).mark, {x, 1.2 * m_size + mark / 2.0}, mark);
        m_picture.line({x, 1.3 * m_size + mark}, {x, y + 2.0}, Ink::line, 0.25);
    }

    /// Names of the parts on up to two rows below the run. Gives where they end.
    double name_parts(double top)
    {
        double end = top;
        for (std::size_t i = 0; i < m_chain.parts.size(); ++i) {
            double const x = m_centres[i];
            bool placed = m_chain.parts[i].name.empty();
            for (int row = 0; row < 4 && !placed; ++row) {
                Label label{{x, top + ink_above * m_size + row * line()},
                            m_chain.parts[i].name,
                            m_size,
                            Ink::text,
                            Face::regular,
                            Align::centre};
                double const half = measure(label.text) / 2.0;
                if (2.0 * half > m_picture.width - 1.0)
                    break;
                label.at.x = std::clamp(x, half + 0.5, m_picture.width - half - 0.5);
                Box const box = label_box(label, 2.0 * half);
                if (!m_placement.free(box.grown(0.9)))
                    continue;
                if (row > 0)
                    m_picture.line({x, top - 0.6}, {x, box.top}, Ink::faint, 0.3);
                m_placement.put_fixed(m_picture, label);
                end = std::max(end, box.bottom);
                placed = true;
            }
            m_lost += placed ? 0 : 1;
        }
        return end;
    }

    /// The joints as a list, worst first where not all have room.
    void list(double top)
    {
        std::vector<std::size_t> order(m_chain.parts.size() - 1);
        std::iota(order.begin(), order.end(), std::size_t{0});
        auto const bad = [&](std::size_t i) { return joint_of(m_chain, i).mark != Mark::pass; };
        std::size_t const room = m_bottom > top ? static_cast<std::size_t>((m_bottom - top) / line()) : 0;
        std::size_t wanted = order.size();
        for (std::size_t const i : order)
            wanted += joint_of(m_chain, i).reason.empty() ? 0 : 1;
        if (wanted > room)
            std::stable_partition(order.begin(), order.end(), bad);
        else
            m_pitch = std::clamp((m_bottom - top) / static_cast<double>(wanted), line(), 1.6 * line());
        double y = top;
        for (std::size_t const i : order) {
            if (y + pitch() > m_bottom + 0.01)
                ++m_lost;
            else
                y = list_row(i, y);
        }
    }

    double list_row(std::size_t i, double y)
    {
        auto const joint = joint_of(m_chain, i);
        double const base = y + ink_above * m_size, left = 0.5 + 2.2 * m_size + measure("00", Face::bold);
        m_placement.put_fixed(m_picture, {{0.5, base}, std::to_string(i + 1), m_size, Ink::text, Face::bold});
        draw_mark(m_picture, joint.mark, {left - 1.2 * m_size, base - 0.36 * m_size}, 1.1 * m_size);
        double const room = room_from(left);
        double const used = measure(joint.name) + m_size;
        bool const one_line = used + measure(joint.reason) <= room;
        double const after = list_lines(joint.name, left, y, room, Ink::text);
        if (joint.reason.empty())
            return after;
        if (one_line) {
            m_placement.put_fixed(m_picture,
                                  {{left + used, base}, joint.reason, m_size, mark_ink(joint.mark)});
            return after;
        }
        return list_lines(joint.reason, left, after, room, mark_ink(joint.mark));
    }

    /// A text of the list on as many lines as it needs; gives where the next one may begin.
    double list_lines(std::string const& text, double left, double top, double room, Ink ink)
    {
        for (auto const& part : wrap_text(text, room, Face::regular, m_size, m_placement.measure())) {
            if (top + pitch() > m_bottom + 0.01) {
                ++m_lost;
                return top;
            }
            m_placement.put_fixed(m_picture, {{left, top + ink_above * m_size}, part, m_size, ink});
            top += pitch();
        }
        return top;
    }

    /// Standing run: each part's name beside it, each joint's mark, name and reason between them.
    void standing()
    {
        double const thick = std::clamp(m_picture.width * 0.2, 10.0, 18.0);
        double const axis = thick / 2.0 + 0.8;
        double const left = thick + 2.4;
        auto const drawn = standing_lengths(left);
        double y = 0.5;
        for (std::size_t i = 0; i < m_chain.parts.size(); ++i) {
            auto const& part = m_chain.parts[i];
            draw_chain_part(m_picture, part.shape,
                            {{axis, y}, drawn[i], thickness(m_chain, part, thick), Run::standing});
            // The name stands between what is said of the joint before and of the joint behind.
            double const above = i > 0 ? joint_lines(i - 1, left) * line() : 0.0;
            double const below = i + 1 < m_chain.parts.size() ? 0.5 * line() : 0.0;
            m_centres.push_back(y + above + std::max(drawn[i] - above - below, 0.0) / 2.0);
            y += drawn[i];
            m_ends.push_back(y);
        }
        // Joints that are not right come first: where room is short their names win.
        for (bool const wrong : {true, false})
            for (std::size_t i = 0; i + 1 < m_chain.parts.size(); ++i)
                if ((joint_of(m_chain, i).mark != Mark::pass) == wrong)
                    standing_joint(i, axis, left);
        for (std::size_t i = 0; i < m_chain.parts.size(); ++i)
            beside(m_chain.parts[i].name, {left, m_centres[i]}, Ink::text, Face::bold);
    }

    double lines_of(std::string const& text, double x, Face face) const
    {
        auto const lines = wrap_text(text, room_from(x), face, m_size, m_placement.measure());
        return text.empty() ? 0.0 : static_cast<double>(lines.size());
    }

    /// Lines that a joint needs below its own height: half its name, and the reason.
    double joint_lines(std::size_t i, double left) const
    {
        double const x = left + 1.25 * m_size + 1.0;
        auto const joint = joint_of(m_chain, i);
        return 0.5 * lines_of(joint.name, x, Face::regular) + lines_of(joint.reason, x, Face::regular);
    }

    /// Lengths of the standing parts: what stands beside each has room, the rest is shared by their sizes.
    std::vector<double> standing_lengths(double left) const
    {
        std::vector<double> needed;
        double sum = 0.0;
        for (std::size_t i = 0; i < m_chain.parts.size(); ++i) {
            double count = lines_of(m_chain.parts[i].name, left, Face::bold) + 0.25;
            if (i > 0)
                count += joint_lines(i - 1, left);
            if (i + 1 < m_chain.parts.size())
                count += 0.5 * lines_of(joint_of(m_chain, i).name, left + 1.25 * m_size + 1.0, Face::regular);
            needed.push_back(count * line());
            sum += needed.back();
        }
        double const total = m_bottom - 1.0;
        if (sum > total)
            return lengths(m_chain, total, 0.85, 1.2);
        auto drawn = lengths(m_chain, total - sum, 0.85, 1.2);
        for (std::size_t i = 0; i < drawn.size(); ++i)
            drawn[i] += needed[i];
        return drawn;
    }

    void standing_joint(std::size_t i, double axis, double left)
    {
        auto const joint = joint_of(m_chain, i);
        double const y = m_ends[i], mark = 1.25 * m_size;
        double const x = left + mark / 2.0;
        m_picture.line({axis, y}, {left, y}, Ink::line, 0.25);
        Box const place{left, y - mark / 2.0, left + mark, y + mark / 2.0};
        if (m_placement.free(place)) {
            draw_mark(m_picture, joint.mark, {x, y}, mark);
            m_placement.take(place);
        }
        double const after = left + mark + 1.0;
        if (!beside(joint.name, {after, y}, Ink::text, Face::regular))
            return;
        double below = m_placement.last_box().bottom - 0.5 * m_size;
        for (auto const& text :
             wrap_text(joint.reason, room_from(after), Face::regular, m_size, m_placement.measure()))
            if (!beside(text, {after, below += line()}, mark_ink(joint.mark), Face::regular))
                return;
    }

    /// Text beside the run, on up to three lines where one is too short, moved up or down a little where it
    /// must; left out, and counted as lost, where it cannot stand.
    bool beside(std::string const& text, Point at, Ink ink, Face face)
    {
        double const room = room_from(at.x);
        auto const& measure = m_placement.measure();
        auto const lines = wrap_text(text, room, face, m_size, measure);
        if (text.empty())
            return false;
        bool const fits = std::all_of(lines.begin(), lines.end(), [&](std::string const& l) {
            return measure(l, face, m_size) <= room + 0.01;
        });
        std::string block;
        for (auto const& l : lines)
            block += (block.empty() ? "" : "\n") + l;
        if (lines.size() <= 3 && fits &&
            put_beside(block, at, line() * static_cast<double>(lines.size() - 1), ink, face))
            return true;
        ++m_lost;
        return put_beside(shorten_text(text, room, face, m_size, measure), at, 0.0, ink, face);
    }

    /// `more` is the height of the lines after the first.
    bool put_beside(std::string const& text, Point at, double more, Ink ink, Face face)
    {
        if (text.empty())
            return false;
        double const base = at.y + (ink_above - ink_below) / 2.0 * m_size - more / 2.0;
        std::vector<Placement::Offer> offers;
        for (double shift = 0.0; shift < 0.7 * m_size; shift += 0.2 * m_size)
            for (double const sign : {1.0, -1.0})
                offers.push_back({{at.x, base + sign * shift}, Align::left, shift});
        return m_placement.put(m_picture, {{}, text, m_size, ink, face}, offers);
    }

    FittingChain const& m_chain;
    Picture m_picture;
    Placement m_placement;
    double m_size;
    double m_bottom = 0.0, m_pitch = 0.0;
    int m_lost = 0;
    std::vector<double> m_centres, m_ends;
};

std::string spoken(FittingChain const& chain)
{
    std::string text = fmt::format("Fitting chain of {} parts", chain.parts.size());
    for (std::size_t i = 0; i < chain.joints.size(); ++i) {
        auto const& joint = chain.joints[i];
        text += fmt::format("; joint {} {}", i + 1, joint.name);
        if (joint.mark != Mark::none)
            text += ": " + (joint.mark_word.empty() ? mark_word(joint.mark) : joint.mark_word);
        if (!joint.reason.empty())
            text += ", " + joint.reason;
    }
    if (!chain.totals.empty())
        text += "; " + chain.totals;
    return text + ".";
}

/// The largest print in which nothing is lost; where even the smallest loses something, that which loses
/// least.
Picture draw_whole(FittingChain const& chain, Space space, MeasureText const& measure)
{
    bool const wide = space.width_mm >= 105.0 && space.width_mm > 1.15 * space.height_mm &&
                      space.height_mm > 48.0 + 1.5 * body_size(space);
    double const smallest = body_size({0.0, 0.0}); // smaller is not read at arm's length
    std::optional<Picture> best;
    int least = 0;
    for (double const share : {1.0, 0.9, 0.8, 0.7, 0.6})
        for (Run const run : {wide ? Run::lying : Run::standing, wide ? Run::standing : Run::lying}) {
            if (run == Run::lying && !wide)
                continue;
            Drawer drawer(chain, space, measure, std::max(share * body_size(space), smallest));
            Picture drawn = drawer.draw(run);
            if (!best || drawer.lost() < least) {
                best = std::move(drawn);
                least = drawer.lost();
            }
            if (least == 0)
                return std::move(*best);
        }
    return std::move(*best);
}

} // namespace

Picture fitting_chain(FittingChain const& chain, Space space, MeasureText const& measure)
{
    Picture picture = draw_whole(chain, space, measure);
    picture.spoken = spoken(chain);
    return picture;
}

} // namespace isochore::drawing
