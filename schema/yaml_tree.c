/* yaml_tree.c - libyaml's document, see yaml_tree.h. */
#include "schema/yaml_tree.h"

#include <stdlib.h>
#include <string.h>
#include <yaml.h>

struct yaml_tree {
    yaml_document_t document;
};

/* Line and column, from 1, of a byte offset: libyaml gives only that for broken encoding. */
static void place_of_offset(const char *bytes, size_t offset, size_t *line, size_t *column)
{
    *line = 1;
    *column = 1;
    for (size_t i = 0; i < offset; i++) {
        *column += 1;
        if (bytes[i] == '\n') {
            *line += 1;
            *column = 1;
        }
    }
}

static enum status refuse(const char *path, const char *bytes, const yaml_parser_t *parser,
                          struct fault *fault)
{
    if (parser->error == YAML_MEMORY_ERROR)
        return FAIL(fault, NO_MEMORY, "no memory to read %s", path);
    size_t line = parser->problem_mark.line + 1;
    size_t column = parser->problem_mark.column + 1;
    if (parser->error == YAML_READER_ERROR)
        place_of_offset(bytes, parser->problem_offset, &line, &column);
    enum status status =
        FAIL(fault, BAD_INPUT, "this is not YAML: %s%s%s; check quotes, brackets and indentation",
             parser->context != NULL ? parser->context : "", parser->context != NULL ? ", " : "",
             parser->problem != NULL ? parser->problem : "unknown cause");
    fault_where(fault, "%s:%zu:%zu", path, line, column);
    return status;
}

/* A second document would be read by nobody. */
static enum status check_end(const char *path, const char *bytes, yaml_parser_t *parser,
                             struct fault *fault)
{
    yaml_document_t next;
    if (!yaml_parser_load(parser, &next))
        return refuse(path, bytes, parser, fault);
    const yaml_node_t *root = yaml_document_get_root_node(&next);
    size_t line = root != NULL ? root->start_mark.line + 1 : 0;
    yaml_document_delete(&next);
    if (line == 0)
        return OK;
    enum status status = FAIL(fault, BAD_INPUT,
                              "a second YAML document begins here; only one is read: remove '---'");
    fault_where(fault, "%s:%zu:1", path, line);
    return status;
}

static enum status load(const char *path, const char *bytes, yaml_parser_t *parser,
                        struct yaml_tree *tree, struct fault *fault)
{
    if (!yaml_parser_load(parser, &tree->document))
        return refuse(path, bytes, parser, fault);
    enum status status = OK;
    if (yaml_tree_root(tree) == 0)
        status =
            FAIL(fault, BAD_INPUT, "%s is empty; `lapwing init` writes one to begin with", path);
    else
        status = check_end(path, bytes, parser, fault);
    if (status != OK)
        yaml_document_delete(&tree->document);
    return status;
}

enum status yaml_tree_load(const char *path, const char *bytes, size_t size,
                           struct yaml_tree **tree, struct fault *fault)
{
    yaml_parser_t parser;
    *tree = NULL;
    struct yaml_tree *made = calloc(1, sizeof *made);
    if (made == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to read %s", path);
    if (!yaml_parser_initialize(&parser)) {
        free(made);
        return FAIL(fault, NO_MEMORY, "no memory to read %s", path);
    }
    yaml_parser_set_input_string(&parser, (const unsigned char *)bytes, size);
    enum status status = load(path, bytes, &parser, made, fault);
    yaml_parser_delete(&parser);
    if (status != OK) {
        free(made);
        return status;
    }
    *tree = made;
    return OK;
}

void yaml_tree_free(struct yaml_tree *tree)
{
    if (tree == NULL)
        return;
    yaml_document_delete(&tree->document);
    free(tree);
}

static const yaml_node_t *at(struct yaml_tree *tree, int node)
{
    return node > 0 ? yaml_document_get_node(&tree->document, node) : NULL;
}

int yaml_tree_root(struct yaml_tree *tree)
{
    /* libyaml numbers nodes from 1, the root first */
    return yaml_document_get_root_node(&tree->document) != NULL ? 1 : 0;
}

enum yaml_kind yaml_tree_kind(struct yaml_tree *tree, int node)
{
    static const enum yaml_kind kinds[] = {
        [YAML_NO_NODE] = YAML_NOTHING,
        [YAML_SCALAR_NODE] = YAML_TEXT,
        [YAML_SEQUENCE_NODE] = YAML_LIST,
        [YAML_MAPPING_NODE] = YAML_MAPPING,
    };
    const yaml_node_t *found = at(tree, node);
    return found != NULL ? kinds[found->type] : YAML_NOTHING;
}

const char *yaml_tree_text(struct yaml_tree *tree, int node)
{
    const yaml_node_t *found = at(tree, node);
    if (found == NULL || found->type != YAML_SCALAR_NODE)
        return "";
    return (const char *)found->data.scalar.value;
}

size_t yaml_tree_line(struct yaml_tree *tree, int node)
{
    const yaml_node_t *found = at(tree, node);
    return found != NULL ? found->start_mark.line + 1 : 0;
}

size_t yaml_tree_column(struct yaml_tree *tree, int node)
{
    const yaml_node_t *found = at(tree, node);
    return found != NULL ? found->start_mark.column + 1 : 0;
}

size_t yaml_tree_count(struct yaml_tree *tree, int node)
{
    const yaml_node_t *found = at(tree, node);
    if (found == NULL || found->type == YAML_SCALAR_NODE)
        return 0;
    if (found->type == YAML_SEQUENCE_NODE)
        return (size_t)(found->data.sequence.items.top - found->data.sequence.items.start);
    return (size_t)(found->data.mapping.pairs.top - found->data.mapping.pairs.start);
}

int yaml_tree_item(struct yaml_tree *tree, int node, size_t i)
{
    const yaml_node_t *found = at(tree, node);
    if (found == NULL || found->type != YAML_SEQUENCE_NODE || i >= yaml_tree_count(tree, node))
        return 0;
    return found->data.sequence.items.start[i];
}

static const yaml_node_pair_t *pair_at(struct yaml_tree *tree, int node, size_t i)
{
    const yaml_node_t *found = at(tree, node);
    if (found == NULL || found->type != YAML_MAPPING_NODE || i >= yaml_tree_count(tree, node))
        return NULL;
    return &found->data.mapping.pairs.start[i];
}

int yaml_tree_key(struct yaml_tree *tree, int node, size_t i)
{
    const yaml_node_pair_t *pair = pair_at(tree, node, i);
    return pair != NULL ? pair->key : 0;
}

int yaml_tree_value(struct yaml_tree *tree, int node, size_t i)
{
    const yaml_node_pair_t *pair = pair_at(tree, node, i);
    return pair != NULL ? pair->value : 0;
}

int yaml_tree_find(struct yaml_tree *tree, int node, const char *key)
{
    size_t n = yaml_tree_count(tree, node);
    for (size_t i = 0; i < n; i++)
        if (strcmp(yaml_tree_text(tree, yaml_tree_key(tree, node, i)), key) == 0)
            return yaml_tree_value(tree, node, i);
    return 0;
}
