#include "report/pdf_file.h"
#include "report/cairo_painter.h"
#include <cairo-pdf.h>
#include <fmt/format.h>
#include <memory>

namespace isochore::report {

namespace {

cairo_status_t append_bytes(void* closure, unsigned char const* data, unsigned length)
{
    static_cast<std::string*>(closure)->append(reinterpret_cast<char const*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

/// "2026-11-25T14:05:00Z" or with an offset "+01:00"; fractions of a second are not taken.
bool is_rfc3339(std::string const& text)
{
    std::string_view const pattern = "dddd-dd-ddTdd:dd:dd";
    auto const matches = [](std::string_view part, std::string_view like) {
        if (part.size() != like.size())
            return false;
        for (std::size_t i = 0; i < like.size(); ++i)
            if (like[i] == 'd' ? part[i] < '0' || part[i] > '9' : part[i] != like[i])
                return false;
        return true;
    };
    std::string_view const whole = text;
    if (whole.size() <= pattern.size() || !matches(whole.substr(0, pattern.size()), pattern))
        return false;
    std::string_view const zone = whole.substr(pattern.size());
    return zone == "Z" || matches(zone, "+dd:dd") || matches(zone, "-dd:dd");
}

void set_properties(cairo_surface_t* surface, PdfProperties const& properties)
{
    auto const set = [&](cairo_pdf_metadata_t kind, std::string const& text) {
        if (!text.empty())
            cairo_pdf_surface_set_metadata(surface, kind, printable(text).c_str());
    };
    set(CAIRO_PDF_METADATA_TITLE, properties.title);
    set(CAIRO_PDF_METADATA_AUTHOR, properties.author);
    set(CAIRO_PDF_METADATA_SUBJECT, properties.subject);
    set(CAIRO_PDF_METADATA_CREATOR, "Isochore");
    // Without this cairo writes the time of the run, and the same record would give other bytes each time.
    set(CAIRO_PDF_METADATA_CREATE_DATE, properties.created);
}

} // namespace

std::vector<Sheet> framed_sheets(Flow const& flow, SheetFrame const& frame,
                                 drawing::MeasureText const& measure)
{
    auto const area = content_area(frame, measure);
    auto const space = paper_space(frame.paper);
    auto contents = flow.sheets(area.height());
    std::vector<Sheet> sheets;
    auto const count = static_cast<int>(contents.size());
    for (auto& content : contents) {
        Sheet& sheet = sheets.emplace_back();
        sheet.picture.width = space.width_mm;
        sheet.picture.height = space.height_mm;
        draw_sheet_frame(sheet.picture, frame, static_cast<int>(sheets.size()), count, measure);
        append(sheet.picture, content.picture, {area.left, area.top});
        sheet.bookmarks = std::move(content.bookmarks);
    }
    return sheets;
}

Result<std::string> sheets_pdf(std::vector<Sheet> const& sheets, PdfProperties const& properties, Type& type)
{
    using Code = Error::Code;
    if (!is_rfc3339(properties.created))
        return fail(
            Code::invalid_input, "created",
            fmt::format("\"{}\" is not a date and time like 2026-11-25T14:05:00Z", properties.created));
    if (sheets.empty())
        return fail(Code::invalid_input, "sheets", "a PDF file needs at least one sheet");
    constexpr double points_per_mm = 72.0 / 25.4;
    std::string bytes;
    auto const& first = sheets.front().picture;
    std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> const surface(
        cairo_pdf_surface_create_for_stream(append_bytes, &bytes, first.width * points_per_mm,
                                            first.height * points_per_mm),
        &cairo_surface_destroy);
    set_properties(surface.get(), properties);
    std::unique_ptr<cairo_t, decltype(&cairo_destroy)> const cr(cairo_create(surface.get()), &cairo_destroy);
    cairo_scale(cr.get(), points_per_mm, points_per_mm);
    int number = 0;
    for (auto const& sheet : sheets) {
        ++number;
        paint(cr.get(), sheet.picture, paper_palette(), type);
        cairo_show_page(cr.get());
        for (auto const& name : sheet.bookmarks)
            cairo_pdf_surface_add_outline(surface.get(), CAIRO_PDF_OUTLINE_ROOT, printable(name).c_str(),
                                          fmt::format("page={}", number).c_str(),
                                          CAIRO_PDF_OUTLINE_FLAG_OPEN);
    }
    cairo_surface_finish(surface.get());
    if (auto const status = cairo_surface_status(surface.get()); status != CAIRO_STATUS_SUCCESS)
        return fail(Code::io, "pdf",
                    fmt::format("the file could not be made: {}", cairo_status_to_string(status)));
    return bytes;
}

} // namespace isochore::report
