#include "drawing/wiring.h"
#include "drawing/placement.h"
#include "drawing/symbols.h"
#include "drawing/text.h"
#include "drawing/text_block.h"
#include <algorithm>
#include <vector>

namespace isochore::drawing {

namespace {

/// A label waiting until every conductor is drawn, so that it can keep clear of all of them.
struct Waiting {
    std::vector<BlockText> texts;
    Box symbol;
    std::vector<Side> sides;
};

class Wiring {
public:
    Wiring(WiringDiagram const& w, Space space, MeasureText const& measure)
        : m_w(w), m_placement({0.0, 0.0, space.width_mm, space.height_mm}, measure), m_size(body_size(space)),
          m_symbols(m_picture, std::clamp(std::min(space.width_mm / 92.0, space.height_mm / 66.0), 0.62, 1.5))
    {
        m_picture.width = space.width_mm;
        m_picture.height = space.height_mm;
        m_top = 1.75 * m_size;
        m_bottom = space.height_mm - 1.5 * m_size;
    }

    Picture draw()
    {
        unit_size();
        switch (m_w.connection) {
        case Connection::parallel_trip_coil:
            parallel();
            break;
        case Connection::separate_output:
            separate();
            break;
        case Connection::lamp_52b:
        case Connection::wetted_52b:
            contact_52b();
            break;
        }
        rails();
        for (auto const& w : m_waiting)
            put_block(m_picture, m_placement, w.texts, w.symbol, w.sides);
        return std::move(m_picture);
    }

private:
    double u(double mm) const { return mm * m_symbols.scale(); }
    double share(double part) const { return m_top + part * (m_bottom - m_top); }

    void unit_size()
    {
        auto const& measure = m_placement.measure();
        double const bold = m_size * 1.1;
        // Its words stand one under the other; in a low circuit the input's take one line.
        bool const low = m_bottom - m_top < 10.0 * m_size;
        double const longest = std::max({low ? measure(m_w.input_label, Face::bold, bold)
                                            : longest_word(m_w.input_label, Face::bold, bold, measure),
                                        measure(m_w.unit_label, Face::regular, m_size),
                                        longest_word(m_w.input_note, Face::regular, m_size, measure)});
        double const width = std::clamp(std::max(longest + 3.6, u(22.0)), 10.0,
                                        m_picture.width * (m_picture.width < 75.0 ? 0.45 : 0.36));
        double const top = share(0.34);
        m_unit = {m_picture.width - 1.5 - width, top, m_picture.width - 1.5,
                  std::min(share(0.88), std::max(top + u(40.0), share(0.6)))};
    }
    void wire(Point a, Point b, Dash dash = Dash::solid)
    {
        m_symbols.wire(a, b, Ink::line, dash);
        m_placement.avoid({a, b}, 40.0);
    }
    void label(Box symbol, std::string const& text, std::string const& note, std::vector<Side> sides,
               Ink ink = Ink::text, Face face = Face::regular)
    {
        m_placement.take(symbol);
        m_waiting.push_back({{{text, m_size, ink, face}, {note, m_size, Ink::muted, Face::regular}},
                             symbol,
                             std::move(sides)});
    }

    void rails()
    {
        double const left = 1.0, right = m_picture.width - 1.0;
        wire({left, m_top}, {right, m_top});
        wire({left, m_bottom}, {right, m_bottom});
        m_placement.put_fixed(m_picture, {{left, m_top - 0.55 * m_size},
                                          shorten_text(m_w.positive, right - left, Face::regular, m_size,
                                                       m_placement.measure()),
                                          m_size,
                                          Ink::text});
        m_placement.put_fixed(m_picture, {{left, m_bottom + 1.15 * m_size},
                                          shorten_text(m_w.negative, right - left, Face::regular, m_size,
                                                       m_placement.measure()),
                                          m_size,
                                          Ink::text});
    }

    /// Box of the unit, its lead from `node`, and its return to the negative rail.
    void unit(Point node)
    {
        double const entry = std::clamp(node.y, m_unit.top + 1.2, m_unit.bottom - 1.2);
        if (m_w.fused && m_unit.left - node.x > u(12.0)) {
            // Drawn lying: the fuse of the new branch.
            double const x = m_unit.left - u(5.0);
            m_picture.rect({x - u(2.8), entry - u(1.2)}, u(5.6), u(2.4), Ink::line, 0.45);
            m_placement.avoid(Box{x - u(2.8), entry - u(1.2), x + u(2.8), entry + u(1.2)}, 40.0);
        }
        wire(node, {m_unit.left, entry});
        m_picture.rect({m_unit.left, m_unit.top}, m_unit.width(), m_unit.height(), Ink::line, 0.55);
        double const x = m_unit.centre().x;
        wire({x, m_unit.bottom}, {x, m_bottom});
        m_symbols.node({x, m_bottom});
        // No word of the input is broken where plainer type holds it.
        auto const& measure = m_placement.measure();
        bool const large =
            longest_word(m_w.input_label, Face::bold, m_size * 1.1, measure) < m_unit.width() - 2.8;
        Box const inside = m_unit.grown(-0.5);
        double const input = large ? m_size * 1.1 : m_size;
        auto const lines = wrap_text(m_w.input_label, inside.width() - 1.6, Face::bold, input, measure).size();
        // Which input it is says more than that it is one of the unit.
        bool const both = (static_cast<double>(lines) * input + m_size) * line_pitch <= inside.height();
        fill_box(m_picture, m_placement,
                 {{both ? m_w.unit_label : std::string(), m_size, Ink::muted, Face::regular},
                  {m_w.input_label, input, Ink::text, Face::bold},
                  {m_w.input_note, m_size, Ink::muted, Face::regular}},
                 inside);
        m_placement.take(m_unit);
    }

    /// The trip circuit from rail to rail: contact, node, 52a, coil. Gives the node above the coil.
    Point trip_circuit(double x)
    {
        Point const contact{x, share(0.2)}, node{x, share(0.42)};
        Point const coil{x, share(m_w.coil_contact ? 0.82 : 0.7)};
        m_symbols.node({x, m_top});
        Box const box = m_symbols.make_contact(contact);
        wire({x, m_top}, {x, box.top});
        wire({x, box.bottom}, node);
        label(box, m_w.trip_label, m_w.trip_note, {Side::right, Side::left});
        Box const coil_box = m_symbols.coil(coil);
        if (m_w.coil_contact) {
            Box const aux = m_symbols.make_contact({x, share(0.57)});
            wire(node, {x, aux.top});
            wire({x, aux.bottom}, {x, coil_box.top});
            label(aux, "52a", "", {Side::right, Side::left});
        } else {
            wire(node, {x, coil_box.top});
        }
        wire({x, coil_box.bottom}, {x, m_bottom});
        m_symbols.node({x, m_bottom});
        label(coil_box, m_w.coil_label, m_w.coil_note, {Side::right, Side::left, Side::below});
        return node;
    }

    /// The supervision relay bridges the trip contact. Gives the x where the trip circuit stands.
    double supervision()
    {
        double const left = 2.0;
        if (m_w.supervision.empty())
            return left + u(6.0);
        auto const& measure = m_placement.measure();
        double const words = measure(m_w.supervision, Face::regular, m_size) / 2.0 + 1.0;
        double const half = std::clamp(words, u(4.0), std::max(u(4.0), m_picture.width * 0.09));
        double const x = left + half, trip_x = x + half + u(5.6);
        double const middle = share(0.21), node = share(0.42);
        double const box_half = std::max(u(3.6), 0.75 * m_size);
        Box const box{x - half, middle - box_half, x + half, middle + box_half};
        m_picture.rect({box.left, box.top}, box.width(), box.height(), Ink::line, 0.45);
        fill_box(m_picture, m_placement, {{m_w.supervision, m_size, Ink::text, Face::regular}}, box);
        m_placement.take(box);
        m_symbols.node({x, m_top});
        wire({x, m_top}, {x, box.top});
        wire({x, box.bottom}, {x, node});
        wire({x, node}, {trip_x, node});
        m_symbols.node({trip_x, node});
        return trip_x;
    }

    void parallel()
    {
        Point const below_contact = trip_circuit(supervision());
        bool const coil_alone = m_w.coil_contact && !m_w.input_across_contact;
        Point const node = coil_alone ? Point{below_contact.x, share(0.69)} : below_contact;
        m_symbols.node(node);
        unit(node);
    }

    void separate()
    {
        double const trip_x = supervision();
        trip_circuit(trip_x);
        double const x = trip_x + (m_unit.left - trip_x) * 0.64;
        Point const contact{x, share(0.2)}, node{x, share(0.46)};
        m_symbols.node({x, m_top});
        Box const box = m_symbols.make_contact(contact);
        wire({x, m_top}, {x, box.top});
        wire({x, box.bottom}, node);
        label(box, m_w.output_label, m_w.output_note, {Side::right, Side::left});
        to_input(node);
    }

    /// From a node: the lead to the input and, where fitted, the resistor to the negative rail.
    void to_input(Point node)
    {
        if (!m_w.resistor_label.empty()) {
            Box const box = m_symbols.resistor({node.x, share(0.71)}, Ink::accent);
            wire(node, {node.x, box.top});
            wire({node.x, box.bottom}, {node.x, m_bottom});
            m_symbols.node(node);
            m_symbols.node({node.x, m_bottom});
            label(box, m_w.resistor_label, m_w.resistor_note, {Side::left, Side::right}, Ink::accent,
                  Face::bold);
        }
        unit(node);
    }

    void contact_52b()
    {
        double const x = m_picture.width * 0.3;
        Point const contact{x, share(0.2)}, node{x, share(0.46)};
        m_symbols.node({x, m_top});
        Box const box = m_symbols.break_contact(contact);
        wire({x, m_top}, {x, box.top});
        wire({x, box.bottom}, node);
        label(box, m_w.contact_52_label, m_w.contact_52_note, {Side::right, Side::left});
        if (m_w.connection == Connection::wetted_52b) {
            to_input(node);
            return;
        }
        Box const lamp = m_symbols.lamp({x, share(0.7)});
        wire(node, {x, lamp.top});
        wire({x, lamp.bottom}, {x, m_bottom});
        m_symbols.node(node);
        m_symbols.node({x, m_bottom});
        label(lamp, m_w.lamp_label, m_w.lamp_note, {Side::left, Side::right});
        unit(node);
    }

    WiringDiagram const& m_w;
    Picture m_picture;
    Placement m_placement;
    double m_size;
    Symbols m_symbols;
    double m_top = 0.0, m_bottom = 0.0;
    Box m_unit;
    std::vector<Waiting> m_waiting;
};

std::string spoken(WiringDiagram const& w)
{
    std::string const supply = " Supply " + w.positive + ".";
    std::string const resistor =
        w.resistor_label.empty() ? std::string() : " Resistor " + w.resistor_label + " across the input.";
    std::string const guard = w.supervision.empty()
                                  ? std::string()
                                  : " Supervision relay " + w.supervision + " bridges the trip contact.";
    switch (w.connection) {
    case Connection::parallel_trip_coil:
        return "Wiring: " + w.input_label + " in parallel with the " + w.coil_label + "." + guard + supply;
    case Connection::separate_output:
        return "Wiring: " + w.input_label + " on a separate wetted output, " + w.output_label + "." +
               resistor + guard + supply;
    case Connection::lamp_52b:
        return "Wiring: " + w.input_label + " across the " + w.lamp_label + " lit by the " +
               w.contact_52_label + " contact." + supply;
    case Connection::wetted_52b:
        break;
    }
    return "Wiring: " + w.input_label + " on a wetted " + w.contact_52_label + " contact." + resistor +
           supply;
}

} // namespace

Picture wiring_diagram(WiringDiagram const& wiring, Space space, MeasureText const& measure)
{
    Picture picture = Wiring(wiring, space, measure).draw();
    picture.spoken = spoken(wiring);
    return picture;
}

} // namespace isochore::drawing
