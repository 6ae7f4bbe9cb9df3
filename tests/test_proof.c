/* test_proof.c - the sheet of one part says what the store holds, of the part and the entry asked for. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/proof_command.h"
#include "report/proof.h"
#include "report/report_command.h"
#include "tests/check.h"
#include "tests/picture_made.h"
#include "tests/scratch.h"
#include "tests/test_report_fixture.h"

/* The sheet of a part of the store's latest entry; the caller frees *page. */
static void make_sheet(struct store *store, const char *part, const char *campaign,
                       struct html *page)
{
    struct findings findings;
    struct fault fault = {0};

    CHECK_OK(findings_read(store, &findings, &fault), &fault);
    struct proof proof = {store, &findings, findings_configuration(&findings, part), campaign};
    CHECK(proof.part != NULL);
    if (proof.part != NULL)
        CHECK_OK(page_proof(page, &proof, &fault), &fault);
    findings_end(&findings);
}

static void check_sheet(struct store *store, const char *part, const char *const *wanted)
{
    struct html page = {0};

    make_sheet(store, part, NULL, &page);
    for (size_t i = 0; wanted[i] != NULL; i++)
        CHECK_CONTAINS(buffer_string(&page.out), wanted[i]);
    CHECK(strstr(buffer_string(&page.out), "nan") == NULL);
    html_free(&page);
}

static void the_claim_is_the_verdict(void)
{
    static const char *const gain[] = {"<h1>At the weighted mean of the attitudes, W1 changes "
                                       "downforce against C0 by +12.1 \xC2\xB1 "
                                       "5.8 counts; drag +0.9 \xC2\xB1 1.6 counts; balance +0.12 "
                                       "\xC2\xB1 0.21 pp; efficiency +0.0090 "
                                       "\xC2\xB1 0.0080.</h1>",
                                       "class=\"chip good\"", ">\xE2\x9C\x93</span>gain</span>",
                                       NULL};
    static const char *const open[] = {
        "<h1>At the weighted mean of the attitudes, it is not decided whether W3 changes downforce "
        "against C0: +4.9 \xC2\xB1 7.9 counts;",
        "</span>can&#39;t tell yet</span>", NULL};
    static const char *const same[] = {
        "W4 does not change downforce by as much as 10 counts against C0: \xE2\x88\x92"
        "3.1 \xC2\xB1 5.2 counts;",
        NULL};
    static const char *const loss[] = {"W5 changes downforce against C0 by \xE2\x88\x92"
                                       "18.8 \xC2\xB1 6.0 counts;",
                                       "class=\"chip bad\"", NULL};
    struct store *store = NULL;
    struct fault fault = {0};

    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    check_sheet(store, "W1", gain);
    check_sheet(store, "W3", open);
    check_sheet(store, "W4", same);
    check_sheet(store, "W5", loss);
    CHECK_OK(
        store_execute(store,
                      "UPDATE delta_result SET verdict = NULL, half_width = NULL, lower = NULL, "
                      "upper = NULL, reason = 'parts not refitted: no verdict (1 mounting)' "
                      "WHERE configuration = 'W1'",
                      &fault),
        &fault);
    static const char *const none[] = {"<h1>No claim is made of W1: parts not refitted.</h1>",
                                       NULL};
    check_sheet(store, "W1", none);
    CHECK_OK(store_close(store, &fault), &fault);
}

static void the_evidence_is_told(void)
{
    static const char *const wanted[] = {
        "<dd class=\"long\">floor edge 5 mm lower</dd>",
        "<dd class=\"long\">C0: as raced</dd>",
        "Facility saltmarsh; balance underfloor;",
        "R101 C0, <b>R102 W1</b>, R104 C0, R107 C0, <b>R109 W1</b>,",
        "<b>R117 W1</b>",
        "<dd class=\"long\">3 of W1, 8 of C0; one mounting is one observation</dd>",
        "11 Feb 2026 20:05 to 12 Feb 2026",
        "24: F8 R30 (0.04), ",
        "Reynolds number on the wheelbase 4.80 million",
        "holds for all 5 parts tried against C0 together",
        "Not road-tested: the season has no run of it on a track.",
        "Anything outside front ride heights of 8.0 to 22.0 mm, ",
        "rear ride heights of 30.0 to 42.0 mm, yaw of ",
        "4.0 to 4.0 deg",
        "lapwing report --proof &#39;W1&#39; --entry &#39;saltmarsh/February&#39;",
        "key c0ffee:",
        "program lapwing 0.1.0",
        "The verdict was not worked out again without some of its runs.",
        NULL};
    struct store *store = NULL;
    struct fault fault = {0};

    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    check_sheet(store, "W1", wanted);
    CHECK_OK(store_close(store, &fault), &fault);
}

static void variants_are_listed(void)
{
    static const char *const wanted[] = {
        "How firm: softer without some; the same verdict in 1 of 2 variants.",
        ">without return R104</th>",
        ">+9.0 \xC2\xB1 9.5</td>",
        ">no verdict</td>",
        "By the other model of drift, the local bracket, the delta is +11.0 counts with a ",
        "standard uncertainty of 2.5: they agree.",
        NULL};
    struct store *store = NULL;
    struct fault fault = {0};

    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    CHECK_OK(
        store_execute(
            store,
            "INSERT INTO robustness VALUES (100, 'W1', 'CL', 'weighted', 'without return R104', "
            "0.009, 0.0095, NULL), (100, 'W1', 'CL', 'weighted', 'all in', 0.012, 0.0058, 'gain');"
            "INSERT INTO stability_result VALUES (100, 'W1', 'CL', 'weighted', 'softer without "
            "some', 2, 1);"
            "UPDATE delta_result SET beside_delta = 0.011, beside_standard_uncertainty = 0.0025 "
            "WHERE configuration = 'W1' AND quantity = 'CL'",
            &fault),
        &fault);
    check_sheet(store, "W1", wanted);
    CHECK_OK(store_close(store, &fault), &fault);
}

/* Raw values that drift with time and step by 0.02 with W2: what is left is the step, exactly. */
static void raw_deltas_are_bracketed(void)
{
    struct store *store = NULL;
    struct findings findings;
    struct fault fault = {0};
    double raw = 0;

    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    CHECK_OK(findings_read(store, &findings, &fault), &fault);
    struct proof proof = {store, &findings, findings_configuration(&findings, "W2"), NULL};
    CHECK_OK(proof_raw(&proof, 0, &raw, &fault), &fault);
    CHECK(raw != raw); /* the ledger has no step of this name yet */
    CHECK_OK(store_execute(
                 store,
                 "INSERT INTO ledger_row SELECT p.reduction, p.point, 90, 'raw', 'CL', '1', 3 + "
                 "2e-6 * (r.start_s - 1770836700) + CASE r.configuration WHEN 'W2' THEN 0.02 "
                 "ELSE 0 END FROM point_result AS p JOIN run AS r ON r.run = p.run",
                 &fault),
             &fault);
    CHECK_OK(proof_raw(&proof, 0, &raw, &fault), &fault);
    CHECK_NEAR(raw, 0.02, 1e-9, "identity: a linear drift drops out");
    CHECK_OK(proof_raw(&proof, 1, &raw, &fault), &fault);
    CHECK(raw != raw);
    findings_end(&findings);
    CHECK_OK(store_close(store, &fault), &fault);
}

static void a_picture_is_part_of_the_page(void)
{
    char folder[SCRATCH_PATH];
    struct store *store = NULL;
    struct html page = {0};
    struct fault fault = {0};

    CHECK(scratch_make(folder));
    CHECK(picture_made_file(folder, "vane.png", "<script>alert(1)</script>"));
    CHECK(scratch_write(folder, "broken.jpg", "\xFF\xD8\xFF\xE0 not much of one"));
    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    CHECK_OK(
        store_execute(store,
                      "INSERT INTO configuration_image VALUES ('W2', 0, 'vane.png'), ('W2', 1, "
                      "'broken.jpg'), ('W2', 2, '../outside.png')",
                      &fault),
        &fault);
    make_sheet(store, "W2", folder, &page);
    const char *text = buffer_string(&page.out);
    CHECK_CONTAINS(text, "<img src=\"data:image/png;base64,iVBORw0KGgo");
    CHECK_CONTAINS(text, "alt=\"W2: turning vane &lt;6 mm slot&gt; &amp; &quot;lip&quot;\" "
                         "width=\"60\" height=\"40\"/>");
    CHECK_CONTAINS(text, "<figcaption>vane.png, SHA-256 ");
    CHECK_CONTAINS(text, "broken.jpg is not shown: ");
    CHECK_CONTAINS(text, "../outside.png is not shown: its path leaves its folder");
    html_free(&page);
    make_sheet(store, "W2", NULL, &page);
    CHECK(strstr(buffer_string(&page.out), "<img") == NULL);
    CHECK(strstr(buffer_string(&page.out), "vane.png") == NULL);
    html_free(&page);
    CHECK_OK(store_close(store, &fault), &fault);
    scratch_remove(folder);
}

static int run_report(const char *folder, char **argv, struct fault *fault)
{
    struct common_options common = {.folder = folder, .quiet = 1};
    int argc = 0;

    while (argv[argc] != NULL)
        argc++;
    *fault = (struct fault){0};
    return report_command.run(&common, argc, argv, fault);
}

static void make_season(const char *folder)
{
    static const struct report_fixture_entry january = {"January", "J", 2000, -2592000.0, 2.0};
    struct store *store = NULL;
    struct fault fault = {0};
    char path[SCRATCH_PATH + 32];

    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    CHECK_OK(report_fixture_open(path, NULL, &store, &fault), &fault);
    CHECK_OK(report_fixture_add_entry(store, &january, &fault), &fault);
    CHECK_OK(store_close(store, &fault), &fault);
}

/* By the command: the latest entry unless another is asked for; the printed command gives the same bytes. */
static void the_command_writes_the_sheet_again(void)
{
    char folder[SCRATCH_PATH], output[SCRATCH_PATH + 32];
    struct fault fault;
    char *latest[] = {"report", "--proof", "W1", NULL};
    char *again[] = {"report",  "--output", output, "--entry", "saltmarsh/February",
                     "--proof", "W1",       NULL};
    char *older[] = {"report", "--proof", "W1", "--entry", "January", "--output", output, NULL};

    CHECK(scratch_make(folder));
    (void)snprintf(output, sizeof output, "%s/out.html", folder);
    make_season(folder);
    CHECK(run_report(folder, latest, &fault) == 0);
    CHECK(run_report(folder, again, &fault) == 0);
    char *first = scratch_read(folder, "report/proof-W1.html");
    char *second = scratch_read(folder, "out.html");
    CHECK(first != NULL && second != NULL && strcmp(first, second) == 0);
    CHECK_CONTAINS(first, "W1 changes downforce against C0 by +12.1");
    free(first);
    free(second);
    CHECK(run_report(folder, older, &fault) == 0);
    second = scratch_read(folder, "out.html");
    CHECK_CONTAINS(second, "W1 changes downforce against C0 by +24 \xC2\xB1 12 counts");
    CHECK_CONTAINS(second, "saltmarsh/January");
    free(second);
    scratch_remove(folder);
}

static void requests_that_cannot_be_met_are_told(void)
{
    static const struct {
        char *argv[7];
        const char *says;
    } wrong[] = {
        {{"report", "--proof", NULL}, "--proof needs a value"},
        {{"report", "--proof", "W9", NULL}, "no configuration 'W9'"},
        {{"report", "--proof", "C0", NULL}, "'C0' was compared with its baseline in no entry"},
        {{"report", "--proof", "W1", "--entry", "June", NULL}, "no entry 'June'"},
        {{"report", "--proof", "W1", "--notes", NULL}, "takes no '--notes'"},
    };
    char folder[SCRATCH_PATH];
    struct fault fault;

    CHECK(scratch_make(folder));
    make_season(folder);
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        CHECK(run_report(folder, (char **)wrong[i].argv, &fault) == 2);
        CHECK_CONTAINS(fault.text, wrong[i].says);
    }
    CHECK(scratch_read(folder, "report/proof-W9.html") == NULL);
    scratch_remove(folder);
}

static void a_name_may_begin_with_a_dash(void)
{
    char command[] = "report", joined[] = "--proof=--help", other[] = "--proofs=x";
    char *wanted[] = {command, joined, NULL};
    char *none[] = {command, other, NULL};

    CHECK(proof_is_wanted(2, wanted));
    CHECK(!proof_is_wanted(2, none));
}

CU_TestInfo proof_tests[] = {
    {"a name may begin with a dash", a_name_may_begin_with_a_dash},
    {"the claim is the verdict", the_claim_is_the_verdict},
    {"the evidence is told", the_evidence_is_told},
    {"variants are listed", variants_are_listed},
    {"raw deltas are bracketed", raw_deltas_are_bracketed},
    {"a picture is part of the page", a_picture_is_part_of_the_page},
    {"the command writes the sheet again", the_command_writes_the_sheet_again},
    {"requests that cannot be met are told", requests_that_cannot_be_met_are_told},
    CU_TEST_INFO_NULL};
