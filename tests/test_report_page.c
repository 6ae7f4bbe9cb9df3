/* test_report_page.c - the night page says what the store says, whatever is in the store. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/html.h"
#include "report/query.h"
#include "tests/check.h"
#include "tests/season_look.h"
#include "tests/test_report_fixture.h"

/* A fixture with a change made by SQL, and the page of it. */
struct made {
    struct store *store;
    struct html page;
    struct fault fault;
    const char *text;
};

static int make(struct made *made, const char *second, const char *sql)
{
    *made = (struct made){0};
    enum status status = report_fixture_open(":memory:", second, &made->store, &made->fault);
    CHECK_OK(status, &made->fault);
    if (status != OK)
        return 0;
    if (sql != NULL)
        status = store_execute(made->store, sql, &made->fault);
    CHECK_OK(status, &made->fault);
    if (status == OK)
        status = report_fixture_page(made->store, &made->page, &made->fault);
    CHECK_OK(status, &made->fault);
    made->text = buffer_string(&made->page.out);
    return status == OK;
}

static void end(struct made *made)
{
    html_free(&made->page);
    CHECK_OK(store_close(made->store, &made->fault), &made->fault);
}

/* A number of the page: true minus, optional plus. */
static double page_number(const char *text)
{
    static const char minus[] = "\xE2\x88\x92";
    int is_negative = strncmp(text, minus, 3) == 0;

    return (is_negative ? -1 : 1) * strtod(is_negative ? text + 3 : text, NULL);
}

static void the_headline_names_the_winner_and_its_cost(void)
{
    struct made made;

    if (make(&made, NULL, NULL)) {
        CHECK_CONTAINS(made.text,
                       "<h1>W2 beats C0 by the most: +23.8 \xC2\xB1 6.1 counts of downforce, at a "
                       "cost of +3.6 \xC2\xB1 2.2 counts of drag.</h1>");
        CHECK_CONTAINS(made.text,
                       "Real: W2 and W1 (gain); W5 (loss). Zero lies outside their 95 % intervals. "
                       "No change that matters: W4, with the whole interval within \xC2\xB1"
                       "10 counts. The intervals hold for all 5 comparisons together.");
        CHECK_CONTAINS(made.text, "Not decided: W3.");
        CHECK_CONTAINS(made.text, "Whether W2 is better than W1 is open");
    }
    end(&made);
}

static void nothing_seen_is_said(void)
{
    struct made made;

    if (make(&made, NULL,
             "UPDATE delta_result SET verdict = 'can''t tell yet', delta = 0.002, lower = -0.010, "
             "upper = 0.014, half_width = 0.012 WHERE is_main = 1"))
        CHECK_CONTAINS(made.text, "<h1>No configuration differs from the baseline by more than "
                                  "the night can see.</h1>");
    end(&made);
}

static void no_verdict_says_why(void)
{
    struct made made;

    if (make(&made, NULL,
             "UPDATE delta_result SET verdict = NULL, reason = 'parts not refitted: no verdict (1 "
             "mounting)' WHERE is_main "
             "= 1"))
        CHECK_CONTAINS(made.text, "<h1>Parts not refitted: no verdict.</h1>");
    CHECK_CONTAINS(made.text, "Not decided: everything. Deltas are printed as measured.");
    CHECK(strstr(made.text, "beats") == NULL);
    CHECK(strstr(made.text, "class=\"winner\"") == NULL);
    end(&made);
}

static void losses_and_small_changes_are_said(void)
{
    struct made made;

    if (make(&made, NULL,
             "UPDATE delta_result SET verdict = 'can''t tell yet' WHERE verdict = 'gain'"))
        CHECK_CONTAINS(made.text, "<h1>No configuration is shown to beat C0; W5 loses: \xE2\x88\x92"
                                  "18.8 \xC2\xB1 6.0 counts of downforce.</h1>");
    end(&made);
    if (make(&made, NULL,
             "UPDATE delta_result SET verdict = 'no change that matters', real_but_small "
             "= 1 WHERE is_main = 1"))
        CHECK_CONTAINS(made.text,
                       "<h1>No configuration changes downforce by an amount that matters "
                       "(10 counts).</h1>");
    CHECK_CONTAINS(made.text, "real, but small");
    end(&made);
}

struct row {
    char configuration[64];
    double delta, half_width, lower, upper;
    char verdict[64];
};

static enum status take_row(struct statement *statement, void *context, struct fault *fault)
{
    struct row *rows = context;
    size_t i = 0;

    (void)fault;
    while (rows[i].configuration[0] != '\0')
        i++;
    (void)snprintf(rows[i].configuration, sizeof rows[i].configuration, "%s",
                   statement_text(statement, 0));
    rows[i].delta = statement_real(statement, 1);
    rows[i].half_width = statement_real(statement, 2);
    rows[i].lower = statement_real(statement, 3);
    rows[i].upper = statement_real(statement, 4);
    (void)snprintf(rows[i].verdict, sizeof rows[i].verdict, "%s", statement_text(statement, 5));
    return OK;
}

/* The table row of a configuration, from its heading to </tr>. */
static const char *table_row(const char *text, const char *configuration, char *out, size_t size)
{
    char head[120];

    (void)snprintf(head, sizeof head, "<th class=\"name\" scope=\"row\">%s ", configuration);
    const char *start = strstr(text, head);
    const char *stop = start != NULL ? strstr(start, "</tr>") : NULL;
    CHECK(stop != NULL);
    if (stop == NULL)
        return "";
    (void)snprintf(out, size, "%.*s", (int)(stop - start), start);
    return out;
}

static double after(const char *text, const char *mark)
{
    const char *at = strstr(text, mark);

    return at != NULL ? page_number(at + strlen(mark)) : (double)NAN;
}

static void every_row_agrees_with_its_picture(void)
{
    struct row rows[8] = {{"", 0, 0, 0, 0, ""}};
    struct made made;
    static char text[16384];

    if (make(&made, NULL, NULL)) {
        CHECK_OK(
            query_each(made.store,
                       "SELECT configuration, delta, half_width, lower, upper, verdict FROM delta "
                       "WHERE is_main = 1 ORDER BY configuration",
                       NULL, take_row, rows, &made.fault),
            &made.fault);
        CHECK(rows[4].configuration[0] != '\0');
    }
    for (size_t i = 0; rows[i].configuration[0] != '\0'; i++) {
        const struct row *row = &rows[i];
        const char *at = table_row(made.text, row->configuration, text, sizeof text);
        const char *title = strstr(at, "<title>");
        CHECK(title != NULL);
        if (title == NULL)
            continue;
        char label[1400];
        (void)snprintf(label, sizeof label, "of %s: ", row->configuration);
        CHECK_NEAR(after(title, label), 1000 * row->delta, 0.051, "identity");
        CHECK_NEAR(after(title, "\xC2\xB1 "), 1000 * row->half_width, 0.051, "identity");
        CHECK_NEAR(after(title, "from "), 1000 * row->lower, 0.051, "identity");
        CHECK_NEAR(after(title, " to "), 1000 * row->upper, 0.051, "identity");
        int drawn_filled = strncmp(strstr(at, "<circle"), "<circle class=\"mark\"", 20) == 0;
        int excludes_zero = row->lower > 0 || row->upper < 0;
        CHECK(drawn_filled == excludes_zero);
        int says_real = strcmp(row->verdict, "gain") == 0 || strcmp(row->verdict, "loss") == 0;
        CHECK(!says_real || excludes_zero);
        int escaped = strcmp(row->verdict, "can't tell yet") == 0;
        CHECK_CONTAINS(at, escaped ? "can&#39;t tell yet" : row->verdict);
    }
    end(&made);
}

static void exploratory_columns_get_no_words(void)
{
    struct made made;

    if (make(&made, NULL, NULL)) {
        static char text[16384];
        const char *row = table_row(made.text, "W3", text, sizeof text);
        CHECK_CONTAINS(row, "cell plain thin");
        CHECK(strstr(row, "cell good") == NULL); /* its drag falls, and that is not judged */
        CHECK(strstr(row, ">gain<") == NULL);
        CHECK_CONTAINS(row, "\xE2\x88\x92"
                            "2.1 \xC2\xB1 1.9");
    }
    end(&made);
}

static void names_cannot_run(void)
{
    struct made made;

    if (make(&made, "<script>alert(1)</script>\" onload=\"x", NULL)) {
        const char *first = strstr(made.text, "<script>");
        CHECK(first != NULL && strstr(first + 1, "<script") == NULL); /* our own, once */
        CHECK(strstr(made.text, "<script>alert") == NULL);
        CHECK(strstr(made.text, "\" onload=") == NULL);
        CHECK_CONTAINS(made.text, "&lt;script&gt;alert(1)&lt;/script&gt;&quot; onload=&quot;x");
    }
    CHECK_CONTAINS(made.text, "default-src &#39;none&#39;; style-src &#39;sha256-");
    CHECK(strstr(made.text, " style=\"") == NULL);
    CHECK(strstr(made.text, "http://www.w3.org/2000/svg") != NULL);
    CHECK(strstr(made.text, "src=") == NULL);
    end(&made);
}

static void two_pages_are_equal(void)
{
    struct made first;
    struct made second;

    int both = make(&first, NULL, NULL);
    both = make(&second, NULL, NULL) && both;
    CHECK(both && strcmp(first.text, second.text) == 0);
    end(&first);
    end(&second);
}

static void exceptions_are_grouped_and_ordered(void)
{
    struct made made;

    if (make(&made, NULL, NULL)) {
        const char *failed = strstr(made.text, "off-target</code>");
        const char *refused = strstr(made.text, "run-quarantined</code>");
        const char *flagged = strstr(made.text, "zero-drift</code>");
        CHECK(failed != NULL && refused != NULL && flagged != NULL);
        CHECK(failed < refused && refused < flagged);
        CHECK_CONTAINS(made.text, "R101, R102, R103, R104, R105, R106 and 14 more");
        CHECK_CONTAINS(made.text, "All else: ");
        CHECK_CONTAINS(made.text, "<title>tap T052: dead</title>");
        CHECK_CONTAINS(made.text, "quarantined: logs/R118_forces.csv:412:1");
    }
    end(&made);
}

/* The sentence, the squares and the table say the same number, and it is that of the store. */
static void changed_taps_are_counted_and_drawn(void)
{
    static const char sql[] =
        "SELECT sum(q_value <= 0.05) || ' of ' || count(q_value) || ' tested "
        "taps of the surface are shown to have changed (squares; on average "
        "at most 5 % of these by chance).' FROM map_tap WHERE configuration = 'W2'";
    struct made made;

    if (make(&made, NULL, NULL)) {
        char *sentence = season_query(made.store, sql, 1);
        size_t squares = 0, rows = 0;
        CHECK(sentence != NULL && strlen(sentence) > 1);
        if (sentence != NULL && sentence[0] != '\0')
            sentence[strlen(sentence) - 1] = '\0'; /* the line feed */
        CHECK_CONTAINS(made.text, sentence != NULL ? sentence : "?");
        for (const char *at = made.text; (at = strstr(at, "\"tap changed\"")) != NULL; at++)
            squares++;
        for (const char *at = made.text; (at = strstr(at, "<td class=\"left\">yes</td>")) != NULL;
             at++)
            rows++;
        CHECK(squares > 0 && sentence != NULL && strtod(sentence, NULL) == (double)squares);
        CHECK(rows == squares);
        free(sentence);
    }
    end(&made);
    if (make(&made, NULL,
             "UPDATE map_tap SET p_value = NULL, q_value = NULL, not_tested = 'mounted once' WHERE "
             "cp IS NOT NULL"))
        CHECK_CONTAINS(made.text, "No tap is tested: mounted once.");
    end(&made);
}

static void an_empty_season_still_has_a_page(void)
{
    struct made made = {0};

    CHECK_OK(store_open(":memory:", STORE_CREATE, &made.store, &made.fault), &made.fault);
    CHECK_OK(report_fixture_page(made.store, &made.page, &made.fault), &made.fault);
    made.text = buffer_string(&made.page.out);
    CHECK_CONTAINS(made.text, "Nothing was compared: the campaign declares no metric.");
    CHECK_CONTAINS(made.text, "</html>");
    CHECK(strstr(made.text, "nan") == NULL);
    end(&made);
}

CU_TestInfo report_page_tests[] = {
    {"the headline names the winner and its cost", the_headline_names_the_winner_and_its_cost},
    {"nothing seen is said", nothing_seen_is_said},
    {"no verdict says why", no_verdict_says_why},
    {"losses and small changes are said", losses_and_small_changes_are_said},
    {"every row agrees with its picture", every_row_agrees_with_its_picture},
    {"exploratory columns get no words", exploratory_columns_get_no_words},
    {"names cannot run", names_cannot_run},
    {"two pages are equal", two_pages_are_equal},
    {"exceptions are grouped and ordered", exceptions_are_grouped_and_ordered},
    {"changed taps are counted and drawn", changed_taps_are_counted_and_drawn},
    {"an empty season still has a page", an_empty_season_still_has_a_page},
    CU_TEST_INFO_NULL};
