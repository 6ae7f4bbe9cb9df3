/* test_night_variants.c - one word for a night without some of it, and which estimate is the headline. All
 * nights are invented. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/statistics/delta_headline.h"
#include "reduce/statistics/night_variants.h"
#include "tests/check.h"

extern CU_TestInfo night_variants_tests[];

static void one_word_for_all_variants(void)
{
    const enum verdict gains[] = {VERDICT_GAIN, VERDICT_GAIN};
    const enum verdict soft[] = {VERDICT_GAIN, VERDICT_CANNOT_TELL};
    const enum verdict other[] = {VERDICT_CANNOT_TELL, VERDICT_NO_CHANGE};
    const enum verdict losses[] = {VERDICT_NO_CHANGE, VERDICT_LOSS, VERDICT_GAIN};
    CHECK(verdict_stability(VERDICT_GAIN, gains, 2) == STABILITY_FIRM);
    CHECK(verdict_stability(VERDICT_GAIN, soft, 2) == STABILITY_SOFT);
    CHECK(verdict_stability(VERDICT_GAIN, other, 2) == STABILITY_DEPENDS);
    CHECK(verdict_stability(VERDICT_GAIN, losses, 3) == STABILITY_REVERSED);
    CHECK(verdict_stability(VERDICT_CANNOT_TELL, soft, 2) == STABILITY_DEPENDS);
    CHECK(verdict_stability(VERDICT_GAIN, gains, 0) == STABILITY_NONE);
    CHECK_TEXT(stability_words(STABILITY_FIRM), "firm");
    CHECK_TEXT(stability_words(STABILITY_NONE), "");
}

static void the_whole_night_is_the_headline(void)
{
    const struct night_delta night = {OUTCOME_OK, 10, 2, 12, 4},
                             none = {OUTCOME_TOO_FEW, 0, 0, 0, 0};
    const struct bracket_delta bracket = {OUTCOME_OK, 16, 0.5, 2, 0},
                               no_bracket = {OUTCOME_TOO_FEW, NAN, NAN, 0, 0};
    const struct variance_estimate few = {8, 3}, season = {2, 50}, unknown = {NAN, 0};
    struct delta_headline chosen =
        delta_headline_choose(&night, 3, HEADLINE_SPARE, &bracket, 6, unknown, season, 8);

    CHECK(chosen.source == HEADLINE_NIGHT && chosen.noise == VARIANCE_SEASONS);
    CHECK_NEAR(chosen.headline.delta, 10, 0, "the model's");
    CHECK_NEAR(chosen.beside.standard_error, 2, 1e-15, "by hand: 2 / 2 + 6 / 2");
    CHECK_NEAR(chosen.beside.degrees_of_freedom, 50, 0, "the noise's: a bend lends no certainty");
    CHECK(chosen.disagree); /* 6 apart, 2.83 combined */
    chosen = delta_headline_choose(&night, 3, HEADLINE_SPARE, &bracket, 12, few, season, 8);
    CHECK(!chosen.disagree); /* 3.3 combined */
    chosen = delta_headline_choose(&night, 2, HEADLINE_SPARE, &bracket, 0, few, unknown, 8);
    CHECK(chosen.source == HEADLINE_BRACKET && chosen.noise == VARIANCE_TONIGHTS);
    CHECK_NEAR(chosen.headline.standard_error, 2, 1e-15, "by hand: 8 / 2");
    CHECK_NEAR(chosen.headline.degrees_of_freedom, 3, 1e-12, "tonight's");
    CHECK(isnan(chosen.beside.delta) && !chosen.disagree);
    chosen = delta_headline_choose(&none, 5, HEADLINE_SPARE, &bracket, 0, unknown, unknown, 8);
    CHECK(chosen.source == HEADLINE_NOBODYS && isnan(chosen.headline.delta));
    chosen = delta_headline_choose(&none, 5, HEADLINE_SPARE, &no_bracket, 0, few, season, 8);
    CHECK(chosen.source == HEADLINE_NOBODYS);
    chosen = delta_headline_choose(&none, 5, HEADLINE_SPARE, &bracket, NAN, few, season, 8);
    CHECK(chosen.source == HEADLINE_NOBODYS);
}

/* A night that is short of observations, or of degrees of freedom that the season has. */
static void a_short_night_is_bracketed(void)
{
    const struct night_delta night = {OUTCOME_OK, 10, 2, 4, 4};
    const struct bracket_delta bracket = {OUTCOME_OK, 11, 0.5, 2, 0};
    const struct bracket_delta nowhere = {.outcome = OUTCOME_TOO_FEW};
    const struct variance_estimate own = {8, 6}, season = {2, 50}, poor = {2, 7},
                                   unknown = {NAN, 0};
    struct delta_headline chosen =
        delta_headline_choose(&night, 5, HEADLINE_SPARE - 1, &bracket, 0, own, unknown, 8);

    CHECK(chosen.source == HEADLINE_BRACKET);
    CHECK_NEAR(chosen.beside.delta, 10, 0, "the model's, beside");
    chosen = delta_headline_choose(&night, 5, HEADLINE_SPARE - 1, &nowhere, 0, own, unknown, 8);
    CHECK(chosen.source == HEADLINE_NIGHT); /* nothing else there is */
    chosen = delta_headline_choose(&night, 5, BESIDE_SPARE - 1, &bracket, 0, own, unknown, 8);
    CHECK(chosen.source == HEADLINE_BRACKET && isnan(chosen.beside.delta));
    chosen = delta_headline_choose(&night, 5, HEADLINE_SPARE, &bracket, 0, own, unknown, 8);
    CHECK(chosen.source == HEADLINE_NIGHT && chosen.noise == VARIANCE_TONIGHTS);
    chosen = delta_headline_choose(&night, 5, HEADLINE_SPARE, &bracket, 0, own, season, 8);
    CHECK(chosen.source == HEADLINE_BRACKET && chosen.noise == VARIANCE_SEASONS);
    CHECK_NEAR(chosen.headline.degrees_of_freedom, 50, 0, "the season's");
    CHECK_NEAR(chosen.beside.delta, 10, 0, "the model's, beside");
    chosen = delta_headline_choose(&night, 5, HEADLINE_SPARE, &bracket, 0, own, poor, 8);
    CHECK(chosen.source == HEADLINE_BRACKET); /* 7 beat the model's 4 */
}

CU_TestInfo night_variants_tests[] = {
    {"one word for what all variants say", one_word_for_all_variants},
    {"a short night is bracketed", a_short_night_is_bracketed},
    {"the whole night is the headline where it can be", the_whole_night_is_the_headline},
    CU_TEST_INFO_NULL,
};
