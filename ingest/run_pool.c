/* run_pool.c - see run_pool.h. */
#include "ingest/run_pool.h"

#include <pthread.h>
#include <stdlib.h>

/* What became of one run. */
struct pool_result {
    int is_done;
    enum status status;
    struct read_run *read;
    struct fault fault;
};

struct run_pool {
    const struct run_pool_work *work;
    pthread_mutex_t lock; /* guards all below */
    pthread_cond_t changed;
    struct pool_result *results; /* a ring of `ahead` */
    size_t ahead;
    size_t next;  /* run to be taken by a thread */
    size_t taken; /* runs the writer has asked for */
    int stopping;
    pthread_t *threads;
    size_t n_threads;
};

static struct pool_result *result_of(struct run_pool *pool, size_t index)
{
    return &pool->results[index % pool->ahead];
}

/* The next run this thread is to read; 0 when there is none. */
static int claim(struct run_pool *pool, size_t *index)
{
    (void)pthread_mutex_lock(&pool->lock);
    while (!pool->stopping && pool->next < pool->work->n && pool->next >= pool->taken + pool->ahead)
        (void)pthread_cond_wait(&pool->changed, &pool->lock);
    int got = !pool->stopping && pool->next < pool->work->n;
    if (got)
        *index = pool->next++;
    (void)pthread_mutex_unlock(&pool->lock);
    return got;
}

static void deliver(struct run_pool *pool, size_t index, const struct pool_result *result)
{
    (void)pthread_mutex_lock(&pool->lock);
    *result_of(pool, index) = *result;
    result_of(pool, index)->is_done = 1;
    (void)pthread_cond_broadcast(&pool->changed);
    (void)pthread_mutex_unlock(&pool->lock);
}

static void *work(void *argument)
{
    struct run_pool *pool = argument;
    const struct run_pool_work *night = pool->work;
    struct units *units = NULL; /* a handle belongs to one thread */
    size_t index = 0;

    while (claim(pool, &index)) {
        struct pool_result result = {.status = OK};
        if (units == NULL)
            result.status = units_open(&units, &result.fault);
        if (result.status == OK)
            result.status = run_reader_read(night->folder, night->sheets,
                                            &night->sheets->runs->runs[night->runs[index]], units,
                                            &result.read, &result.fault);
        deliver(pool, index, &result);
    }
    units_close(units);
    return NULL;
}

static enum status start_threads(struct run_pool *pool, struct fault *fault)
{
    for (int i = 0; i < pool->work->threads; i++) {
        if (pthread_create(&pool->threads[pool->n_threads], NULL, work, pool) == 0)
            pool->n_threads++;
        else if (pool->n_threads == 0)
            return FAIL(fault, NO_MEMORY, "no thread can be started to read the logs");
    }
    return OK; /* fewer threads than asked for do the same work */
}

enum status run_pool_start(const struct run_pool_work *night, struct run_pool **out,
                           struct fault *fault)
{
    struct run_pool *pool = calloc(1, sizeof *pool);

    *out = NULL;
    if (pool == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the reading threads");
    pool->work = night;
    pool->ahead = 2 * (size_t)night->threads;
    if (pthread_mutex_init(&pool->lock, NULL) != 0) {
        free(pool);
        return FAIL(fault, NO_MEMORY, "no memory for the reading threads");
    }
    if (pthread_cond_init(&pool->changed, NULL) != 0) {
        (void)pthread_mutex_destroy(&pool->lock);
        free(pool);
        return FAIL(fault, NO_MEMORY, "no memory for the reading threads");
    }
    enum status status = OK;
    pool->results = calloc(pool->ahead, sizeof *pool->results);
    pool->threads = calloc((size_t)night->threads, sizeof *pool->threads);
    if (pool->results == NULL || pool->threads == NULL)
        status = FAIL(fault, NO_MEMORY, "no memory for the reading threads");
    if (status == OK)
        status = start_threads(pool, fault);
    if (status != OK) {
        run_pool_end(pool);
        return status;
    }
    *out = pool;
    return OK;
}

enum status run_pool_take(struct run_pool *pool, size_t index, struct read_run **read,
                          struct fault *fault)
{
    (void)pthread_mutex_lock(&pool->lock);
    while (!result_of(pool, index)->is_done)
        (void)pthread_cond_wait(&pool->changed, &pool->lock);
    struct pool_result result = *result_of(pool, index);
    *result_of(pool, index) = (struct pool_result){.status = OK};
    pool->taken = index + 1;
    (void)pthread_cond_broadcast(&pool->changed);
    (void)pthread_mutex_unlock(&pool->lock);
    *read = result.read;
    if (result.status != OK && fault != NULL)
        *fault = result.fault;
    return result.status;
}

void run_pool_end(struct run_pool *pool)
{
    if (pool == NULL)
        return;
    (void)pthread_mutex_lock(&pool->lock);
    pool->stopping = 1;
    (void)pthread_cond_broadcast(&pool->changed);
    (void)pthread_mutex_unlock(&pool->lock);
    for (size_t i = 0; i < pool->n_threads; i++)
        (void)pthread_join(pool->threads[i], NULL);
    for (size_t i = 0; pool->results != NULL && i < pool->ahead; i++)
        read_run_free(pool->results[i].read);
    (void)pthread_cond_destroy(&pool->changed);
    (void)pthread_mutex_destroy(&pool->lock);
    free(pool->results);
    free(pool->threads);
    free(pool);
}
