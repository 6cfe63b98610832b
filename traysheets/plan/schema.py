"""The JSON Schema of the plan file, for editors that check and complete as one types."""

from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from traysheets.plan.plan_form import PlanFile


class _PlanSchema(GenerateJsonSchema):
    """A key that may be left out is no key that may be null: TOML has no such value."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])

    def field_title_should_be_set(self, schema: object) -> bool:
        """A key's name is title enough."""
        return False

    def model_schema(self, schema: core_schema.ModelSchema) -> JsonSchemaValue:
        """Without the name that a table's form has in the code."""
        return {key: value for key, value in super().model_schema(schema).items() if key != "title"}


def plan_schema() -> dict[str, Any]:
    """The schema as JSON Schema Draft 2020-12 has it. Dates, which TOML has and JSON lacks, are texts."""
    schema = PlanFile.model_json_schema(schema_generator=_PlanSchema)
    return {"$schema": GenerateJsonSchema.schema_dialect, "title": "Sowing plan", **schema}
