/* tare_rows.c - see tare_rows.h. */
#include "reduce/tare_rows.h"

#include <math.h>

#include "schema/statement.h"

enum status tare_fit_write(const struct run_work *work, int64_t reduction, struct fault *fault)
{
    const struct tare_model *model = &work->tare.model;
    const struct weight_fit *fit = &model->fit;
    struct statement *insert = NULL;
    if (work->tare.choice.kind != TARE_KIND_LOOKUP || !model->is_wanted ||
        model->outcome != OUTCOME_OK)
        return OK;
    const double values[] = {fit->weight,        fit->weight_u,      model->setup.scales_weight,
                             fit->position[0],   fit->position[1],   fit->position[2],
                             fit->position_u[0], fit->position_u[1], fit->position_u[2],
                             fit->condition,     fit->rms[0],        fit->rms[1],
                             fit->rms[2],        fit->rms[3],        fit->rms[4],
                             fit->rms[5]};
    enum status status = statement_prepare(
        work->night->store,
        "INSERT INTO weight_fit (reduction, tare_run, points, weight_n, weight_n_u, "
        "scales_weight_n, cg_x_m, cg_y_m, cg_z_m, cg_x_m_u, cg_y_m_u, cg_z_m_u, condition_number, "
        "residual_fx_n, residual_fy_n, residual_fz_n, residual_mx_nm, residual_my_nm, "
        "residual_mz_nm) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)",
        &insert, fault);
    if (status == OK)
        status = statement_bind_integer(insert, 1, reduction, fault);
    if (status == OK)
        status = statement_bind_text(insert, 2, work->tare.choice.run->run, fault);
    if (status == OK)
        status = statement_bind_integer(insert, 3, (int64_t)fit->n, fault);
    for (int i = 0; status == OK && i < (int)(sizeof values / sizeof values[0]); i++) {
        int is_told = isfinite(values[i]) && (i != 2 || values[i] > 0);
        status = statement_bind_real(insert, 4 + i, is_told ? values[i] : (double)NAN, fault);
    }
    if (status == OK)
        status = statement_run(insert, fault);
    statement_free(insert);
    return status;
}
