#include "app/desk.h"
#include "quantity/error_words.h"

namespace isochore::app {

void Desk::go(std::unique_ptr<Page> page)
{
    next = std::move(page);
}

void Desk::ask(std::string title, std::string text, std::string yes, std::function<void()> then)
{
    Question q;
    q.title = std::move(title);
    q.text = std::move(text);
    q.actions = {{"cancel", words("Back"), {}, false, true, false},
                 {"yes", std::move(yes), {}, true, true, false}};
    q.answered = [then = std::move(then)](std::string const& action) {
        if (action == "yes")
            then();
    };
    question = std::move(q);
}

void Desk::say(std::string title, std::string text)
{
    Question q;
    q.title = std::move(title);
    q.text = std::move(text);
    q.actions = {{"cancel", words("Understood"), {}, true, true, false}};
    question = std::move(q);
}

std::string Desk::fault(Error const& error) const
{
    std::string const where =
        outage ? model::title_in_words(outage->checklists(), error.where, words) : error.where;
    std::string const detail = words.sentence(error.detail);
    return where.empty() || names_its_place(error) ? detail : words.sentence(where) + ": " + detail;
}

void Desk::report(Error const& error)
{
    say(words("This was not done"), fault(error));
}

} // namespace isochore::app
