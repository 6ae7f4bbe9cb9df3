/* pages.c - see pages.h. */
#include "tests/browser/pages.h"

#include <stdio.h>
#include <string.h>

#include "report/page_glance.h"
#include "report/report_command.h"
#include "report/report_files.h"
#include "report/season_site.h"
#include "tests/check.h"
#include "tests/glance_made.h"
#include "tests/program.h"
#include "tests/test_report_fixture.h"

enum { PATH = 128 };

static char night_folder[64], other_folder[64];

const char *const hostile_name = "<script>alert(1)</script>";

static const struct {
    const char *name, *folder, *file, *season;
} pages[PAGE_COUNT] = {
    [PAGE_NIGHT] = {"night", night_folder, "report/night.html", "season.sqlite"},
    [PAGE_GLANCE] = {"glance", night_folder, "report/glance_R05.html", "season.sqlite"},
    [PAGE_CARD] = {"card", other_folder, "balance_card.html", NULL},
    [PAGE_FIXTURE] = {"fixture", other_folder, "fixture/report/night.html",
                      "fixture/season.sqlite"},
    [PAGE_HOSTILE] = {"hostile", other_folder, "hostile/report/night.html",
                      "hostile/season.sqlite"},
    [PAGE_HOSTILE_GLANCE] = {"hostile-glance", other_folder, "glance.html", NULL},
    [PAGE_EIGHT] = {"eight", other_folder, "eight/report/night.html", "eight/season.sqlite"},
    [PAGE_MANY] = {"many", other_folder, "many/report/night.html", "many/season.sqlite"},
    [PAGE_LARGE] = {"large", other_folder, "large/night.html", "large/season.sqlite"},
    [PAGE_EMPTY] = {"empty", other_folder, "empty/report/night.html", "empty/season.sqlite"},
    [PAGE_PROOF] = {"proof", night_folder, "report/proof-floor-edge.html", "season.sqlite"},
    [PAGE_INDEX] = {"index", night_folder, "report/index.html", "season.sqlite"},
    [PAGE_COMPARE] = {"compare", night_folder, "compare.html", "season.sqlite"},
    [PAGE_PAIR] = {"pair", night_folder, "pair.html", "season.sqlite"},
    [PAGE_HOSTILE_PROOF] = {"hostile-proof", other_folder, "hostile/report/proof-W4.html",
                            "hostile/season.sqlite"},
    [PAGE_HOSTILE_INDEX] = {"hostile-index", other_folder, "hostile/report/index.html",
                            "hostile/season.sqlite"},
};

const char *page_name(enum page_kind kind)
{
    return pages[kind].name;
}

const char *page_path(enum page_kind kind)
{
    static char path[PATH];

    (void)snprintf(path, sizeof path, "%s/%s", pages[kind].folder, pages[kind].file);
    return path;
}

struct store *folder_of_page(enum page_kind kind)
{
    char path[PATH];
    struct store *store = NULL;
    struct fault fault = {0};

    (void)snprintf(path, sizeof path, "%s/%s", pages[kind].folder, pages[kind].season);
    CHECK_OK(store_open(path, STORE_READ_ONLY, &store, &fault), &fault);
    return store;
}

/* ---- by the program ------------------------------------------------------------------------------ */

static int make_night_pages(void)
{
    char out[PROGRAM_OUTPUT];

    if (!program_demo_night(night_folder, 1))
        return 0;
    /* A picture for one part: a sketch of 300 x 200 pixels. */
    if (program_shell(out,
                      "cd %s && mkdir pictures && python3 -c \"import zlib,struct\n"
                      "def chunk(kind, data): return struct.pack('>I', len(data)) + kind + data + "
                      "struct.pack('>I', zlib.crc32(kind + data))\n"
                      "rows = b''.join(b'\\0' + bytes((x * y) %% 251 for x in range(300)) for y in "
                      "range(200))\n"
                      "open('pictures/edge.png', 'wb').write(b'\\x89PNG\\r\\n\\x1a\\n' + "
                      "chunk(b'IHDR', struct.pack('>IIBBBBB', 300, 200, 8, 0, 0, 0, 0)) + "
                      "chunk(b'IDAT', zlib.compress(rows)) + chunk(b'IEND', b''))\" && "
                      "sed -i -e '1s/$/,image/' -e '2,$s/$/,/' -e "
                      "'/^floor-edge/s/$/pictures\\/edge.png/' configurations.csv",
                      night_folder) != 0)
        return 0;
    if (program_shell(out, "%s --quiet -C %s batch", program_lapwing(), night_folder) > 1)
        return 0;
    if (program_shell(out, "%s -C %s glance R05", program_lapwing(), night_folder) > 1)
        return 0;
    return program_shell(out,
                         "%s -C %s compare --format html --output %s/compare.html && %s -C %s "
                         "compare floor-edge "
                         "front-flap --attitude all --format html --output %s/pair.html",
                         program_lapwing(), night_folder, night_folder, program_lapwing(),
                         night_folder, night_folder) == 0;
}

static int make_card(void)
{
    char out[PROGRAM_OUTPUT];

    int status = program_shell(
        out,
        "{ echo Fx,Fy,Fz,Mx,My,Mz,R1,R2,R3,R4,R5,R6,check; "
        "echo N,N,N,N m,N m,N m,mV/V,mV/V,mV/V,mV/V,mV/V,mV/V,; "
        "awk -F, '$1 ~ /^[0-9]+$/ { sub(/^[^,]*,/, \"\"); print $0 (++n > 78 ? \",yes\" : "
        "\",\") }' tests/oracles/balance_sets/balance27_calset.csv; } > %s/loadings.csv && "
        "%s -C %s calibrate %s/loadings.csv --rated 'Fx 1 N' --rated 'Fy 1 N' --rated 'Fz 1 N' "
        "--rated 'Mx 1 N m' --rated 'My 1 N m' --rated 'Mz 1 N m' --write %s/balance",
        other_folder, program_lapwing(), other_folder, other_folder, other_folder);
    if (status != 0)
        CHECK_TEXT(out, "a calibration card");
    return status == 0;
}

/* ---- by the report alone ------------------------------------------------------------------------- */

/* Breaking out of elements, attributes and scripts; a link; an override of the writing's direction;
 * bytes that are not UTF-8; a control character. Lines end in nothing that SQL would mind. */
static const char hostile_sql[] =
    "UPDATE configuration SET change = '\"><img src=x onerror=alert(2)>' WHERE sequence = 1;"
    "UPDATE configuration SET change = 'javascript:alert(3)' || char(8238) || 'gnp.exe' || char(7) "
    "WHERE sequence = 3;"
    "UPDATE configuration SET change = replace(hex(zeroblob(90)), '0', 'W') WHERE sequence = 4;"
    "UPDATE configuration SET note = '</style><script>alert(4)</script>';"
    "UPDATE setting SET unit = '<b onmouseover=alert(5)>m</b>' WHERE unit <> '';"
    "UPDATE setting SET value = '</title><script>alert(6)</script>' WHERE name IN ('season', "
    "'name');"
    "UPDATE tap SET tap = tap || '\" onload=\"alert(7)\" x=''<svg/onload=alert(7)>';"
    "UPDATE map_tap SET tap = tap || '\" onload=\"alert(7)\" x=''<svg/onload=alert(7)>';"
    "UPDATE map_triangle SET tap_a = tap_a || '\" onload=\"alert(7)\" x=''<svg/onload=alert(7)>', "
    "tap_b = tap_b || '\" onload=\"alert(7)\" x=''<svg/onload=alert(7)>', "
    "tap_c = tap_c || '\" onload=\"alert(7)\" x=''<svg/onload=alert(7)>';"
    "UPDATE tap SET surface = '<iframe src=javascript:alert(8)>';"
    "UPDATE map_triangle SET surface = '<iframe src=javascript:alert(8)>';"
    "UPDATE flag_row SET detail = detail || ' ]]><script>alert(9)</script><!--' || "
    "CAST(x'20c328a0a1ff' AS TEXT);"
    "UPDATE run SET reason = reason || '<a href=\"javascript:alert(10)\">mend</a>' WHERE state <> "
    "'ok';"
    "UPDATE log SET file = file || '\"onfocus=alert(11) autofocus=''';"
    "UPDATE flag_rule SET sentence = sentence || '<script src=//example.invalid/x.js></script>';";

static int make_fixture(const char *name, const char *second, const char *sql, int more)
{
    char out[PROGRAM_OUTPUT], folder[PATH], path[PATH + 32];
    struct store *store = NULL;
    struct fault fault = {0};

    (void)snprintf(folder, sizeof folder, "%s/%s", other_folder, name);
    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    if (program_shell(out, "mkdir %s", folder) != 0)
        return 0;
    enum status status = report_fixture_open(path, second, &store, &fault);
    if (status == OK && sql != NULL)
        status = store_execute(store, sql, &fault);
    if (status == OK)
        status = report_fixture_add_configurations(store, more, &fault);
    if (status == OK)
        status = report_write(store, folder, NULL, &fault);
    CHECK_OK(status, &fault);
    CHECK_OK(store_close(store, &fault), &fault);
    return status == OK;
}

/* Its pages alone: the tables are large, and not looked at here. */
static int make_large(void)
{
    char out[PROGRAM_OUTPUT], folder[PATH], path[PATH + 32];
    struct store *store = NULL;
    struct fault fault = {0};

    (void)snprintf(folder, sizeof folder, "%s/large", other_folder);
    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    if (program_shell(out, "mkdir %s", folder) != 0)
        return 0;
    enum status status = report_fixture_open(path, NULL, &store, &fault);
    if (status == OK)
        status = report_fixture_enlarge(store, &fault);
    if (status == OK)
        status = season_site_write(store, folder, NULL, NULL, &fault);
    CHECK_OK(status, &fault);
    CHECK_OK(store_close(store, &fault), &fault);
    return status == OK;
}

static int make_empty(void)
{
    char out[PROGRAM_OUTPUT], folder[PATH], path[PATH + 32];
    struct store *store = NULL;
    struct fault fault = {0};

    (void)snprintf(folder, sizeof folder, "%s/empty", other_folder);
    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    if (program_shell(out, "mkdir %s", folder) != 0)
        return 0;
    enum status status = store_open(path, STORE_CREATE, &store, &fault);
    if (status == OK)
        status = report_write(store, folder, NULL, &fault);
    CHECK_OK(status, &fault);
    CHECK_OK(store_close(store, &fault), &fault);
    return status == OK;
}

static int make_hostile_glance(void)
{
    static const char attack[] = "\"><script>alert(12)</script><img src=x onerror='alert(13)'>";
    struct glance glance;
    struct html page = {0};
    struct fault fault = {0};
    char path[PATH];

    glance_made(&glance);
    glance.season = glance.car = glance.configuration = glance.facility = attack;
    glance.entry = glance.run = glance.points[1].label = glance.targets[2].name = attack;
    (void)glance_made_flag(&glance, FLAG_OFF_TARGET, 1, attack, 2, 1);
    enum status status = page_glance(&page, &glance, &fault);
    (void)snprintf(path, sizeof path, "%s/glance.html", other_folder);
    if (status == OK)
        status = report_save(path, &page.out, &fault);
    CHECK_OK(status, &fault);
    html_free(&page);
    glance_end(&glance);
    return status == OK;
}

int pages_make(void)
{
    static const char second[] = "<script>alert(1)</script>\" onload='alert(1)' &amp; \xE2\x80\xAE";

    return make_night_pages() && program_scratch(other_folder) && make_card() &&
           make_fixture("fixture", NULL, NULL, 0) && make_fixture("eight", NULL, NULL, 3) &&
           make_fixture("many", NULL, NULL, 12) && make_large() &&
           make_fixture("hostile", second, hostile_sql, 0) && make_hostile_glance() && make_empty();
}

void pages_remove(void)
{
    program_remove(night_folder);
    program_remove(other_folder);
}
