/// Writes a sample record and job pack as PDF files, for people to look at: report_gallery FOLDER.
#include "../sample_document.h"
#include "report/record_pdf.h"
#include <filesystem>
#include <fmt/format.h>
#include <fstream>

int main(int count, char** arguments)
{
    using namespace isochore;
    if (count < 2) {
        fmt::print(stderr, "report_gallery FOLDER\n");
        return 2;
    }
    std::filesystem::path const folder = arguments[1];
    std::filesystem::create_directories(folder);
    auto const keep = [&](char const* name, Result<std::string> const& bytes) {
        if (!bytes) {
            fmt::print(stderr, "{}: {}\n", name, bytes.error().detail);
            return;
        }
        std::ofstream(folder / name, std::ios::binary) << *bytes;
        fmt::print("{}: {} bytes\n", name, bytes->size());
    };
    auto document = tests::sample_document();
    keep("record.pdf", report::record_pdf(document));
    document.paper = report::Paper::letter;
    document.draft = true;
    keep("record-letter.pdf", report::record_pdf(document));
    keep("job-pack.pdf", report::job_pack_pdf(tests::sample_pack()));
}
